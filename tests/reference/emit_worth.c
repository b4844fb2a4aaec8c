/* Writes rows of games whose results are drawn from known weights, and what fit's --worth makes of them, as JSON, for
 * statistics_worth.py to work out by itself. Without a prior, so that it is a plain logistic regression. */
#include "tests/bench/fit/worth_world.h"

#include <stdio.h>

enum { GAMES = 600 };

/* The columns of a row: halves of material and tempo, then the term's weights; and what is added to them. */
static void emit_row(const WorthWorld *world, const FitRow *row, uint32_t game)
{
    printf("{\"game\":%u,\"result\":%g,\"offset\":%.9g,\"halves\":{", (unsigned)game, (double)row->result,
           (double)row->constant);
    double endgame = 0;
    for (int i = 0; i < row->counts; i++)
        endgame += world->features.counts[row->first_count + (size_t)i].count *
                   world->truth[2 * world->features.counts[row->first_count + (size_t)i].pair + 1];
    for (int i = 0; i < row->counts; i++) {
        const FitCount *count = &world->features.counts[row->first_count + (size_t)i];
        printf("%s\"%d\":%.9g,\"%d\":%.9g", i ? "," : "", 2 * count->pair,
               count->count * (double)row->middlegame, 2 * count->pair + 1,
               count->count * (double)row->endgame[endgame > 0 ? WHITE : BLACK]);
    }
    printf("},\"term\":{");
    for (int i = 0; i < row->slopes; i++) {
        const FitSlope *slope = &world->features.slopes[row->first_slope + (size_t)i];
        printf("%s\"%s\":%.9g", i ? "," : "", ps_weight_table[slope->weight].name, (double)slope->slope);
    }
    puts("}}");
}

static void emit_answer(const char *name, const Worth *worth, double unit)
{
    if (worth->known)
        printf("{\"name\":\"%s\",\"value\":%.9g,\"error\":%.9g,\"low\":%.9g,\"high\":%.9g}\n", name,
               worth->value / unit, worth->error / unit, worth->interval.low / unit,
               worth->interval.high / unit);
}

int main(void)
{
    const FitWeights weights = {default_weights, ps_default_weights};
    WorthWorld world = worth_world(7, GAMES);
    WorthSettings settings = world_settings;
    FitWorth worth;
    settings.prior = INFINITY;
    settings.scale = 400; /* so that no result is certain: statsmodels could not say how certain */
    settings.resamples = 20000;
    worth_world_draw(&world, 7, settings.scale);
    if (!fit_worth(&worth, &world.features, world.games, &weights, &settings))
        return 1;
    printf("{\"scale\":%g}\n", settings.scale);
    for (size_t i = 0; i < world.features.rows_count; i++)
        emit_row(&world, &world.features.rows[i], world.games[i]);
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        emit_answer(ps_weight_table[i].name, &worth.weights[i],
                    ps_weight_table[i].offset == offsetof(ps_weights, room) ? 1.0 / 16 : 1);
    emit_answer("whole", &worth.whole, 1);
    worth_world_free(&world);
    return 0;
}
