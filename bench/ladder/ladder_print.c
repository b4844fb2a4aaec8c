#include "bench/ladder/ladder_print.h"
#include "bench/base/csv.h"
#include "bench/base/json_line.h"
#include "bench/run/group_output.h"

#include <inttypes.h>
#include <math.h>

/* -------------------------------------------------------------------------------------------- for people */

static void print_step(FILE *out, const Ladder *ladder, int number)
{
    const MatchEstimate *step = &ladder->steps[number];
    char interval[ELO_TEXT_SIZE], elo[ELO_TEXT_SIZE];
    double promise = 100 * ladder_promise(ladder, number);
    if (step->pairs == 0)
        fprintf(out, " %6d %6s  %4s    %5.1f%%   %6s %-22s", 0, "-", "", promise, "-", "");
    else
        fprintf(out, " %6" PRIu64 " %6.1f%% %4.1f    %5.1f%%   %6s %-22s", step->pairs, 100 * step->score,
                50 * (step->score_interval.high - step->score_interval.low), promise,
                elo_text(step->elo, elo), elo_interval_text(step->elo_interval, interval));
}

static void print_rating(FILE *out, const Ladder *ladder, int number)
{
    const LadderLevel *level = &ladder->levels[number];
    if (number == ladder->anchor)
        fprintf(out, " %6.0f  anchor\n", level->measured);
    else if (isfinite(level->error))
        fprintf(out, " %6.0f %3.0f\n", level->measured, ladder_rating_spread(level));
    else
        fprintf(out, " %6s\n", "-");
}

static void print_suite(FILE *out, const Ladder *ladder, const LadderSuite *suite)
{
    fprintf(out,
            "\nSolved of %zu positions, mean of %d seeds; people: of 24, Kopec and Bratko 1982, from "
            "memory.\n\n"
            " level  solved  people\n",
            suite->count, LADDER_SUITE_SEEDS);
    for (int i = 0; i < ladder->count; i++)
        if (isfinite(ladder->levels[i].solved))
            fprintf(out, "%6d  %6.1f  %6.1f\n", ladder->levels[i].elo, ladder->levels[i].solved,
                    ladder_suite_people(ladder->levels[i].elo));
}

static void print_text(FILE *out, const Ladder *ladder, const LadderSuite *suite, const RunCost *cost)
{
    static const char *const orders[] = {
        [LADDER_RISES] = "Each level is better than the one below it.",
        [LADDER_FALLS_SOMEWHERE] =
            "Not every level is better than the one below it: the scale is not monotone.",
        [LADDER_NOT_ALL_PLAYED] = "Not every step has been played yet.",
    };
    fputs("Each level against the one below it, with 95 % intervals; measured: the rating by these games, as "
          "far as\n"
          "they tell it apart from that of the anchor.\n\n"
          " level  pairs   score  +-   promised    Elo above             measured  +-\n",
          out);
    for (int i = 0; i < ladder->count; i++) {
        fprintf(out, "%6d", ladder->levels[i].elo);
        if (i == 0)
            fprintf(out, "%55s", "");
        else
            print_step(out, ladder, i - 1);
        print_rating(out, ladder, i);
    }
    fprintf(out, "\n%s\n", orders[ladder_order(ladder)]);
    if (cost)
        cost_print(out, cost);
    if (suite)
        print_suite(out, ladder, suite);
}

/* ---------------------------------------------------------------------------------------------- for programs */

static cJSON *json_level(const Ladder *ladder, int number, bool with_suite)
{
    const LadderLevel *level = &ladder->levels[number];
    double spread = ladder_rating_spread(level);
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "level", level->elo);
    json_add_real(object, "measured", level->measured);
    json_add_real(object, "measured_low", level->measured - spread);
    json_add_real(object, "measured_high", level->measured + spread);
    if (with_suite) {
        json_add_real(object, "solved", level->solved);
        json_add_real(object, "solved_by_people", ladder_suite_people(level->elo));
    }
    return object;
}

static cJSON *json_step(const Ladder *ladder, int number, size_t planned)
{
    const MatchEstimate *step = &ladder->steps[number];
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "level", ladder->levels[number + 1].elo);
    cJSON_AddNumberToObject(object, "against", ladder->levels[number].elo);
    cJSON_AddNumberToObject(object, "pairs", (double)step->pairs);
    cJSON_AddNumberToObject(object, "pairs_planned", (double)planned);
    json_add_real(object, "score_promised", ladder_promise(ladder, number));
    json_add_estimate(object, step);
    return object;
}

static bool print_json(FILE *out, const Ladder *ladder, const LadderSuite *suite, const StoredRun *run,
                       const RunCost *cost)
{
    LadderOrder order = ladder_order(ladder);
    cJSON *object = cJSON_CreateObject();
    settings_json(object, run);
    cJSON_AddNumberToObject(object, "anchor", ladder->levels[ladder->anchor].elo);
    cJSON *levels = cJSON_AddArrayToObject(object, "levels");
    for (int i = 0; i < ladder->count; i++)
        cJSON_AddItemToArray(levels, json_level(ladder, i, suite));
    cJSON *steps = cJSON_AddArrayToObject(object, "steps");
    for (int i = 0; i + 1 < ladder->count; i++)
        cJSON_AddItemToArray(steps, json_step(ladder, i, run->planned_pairs));
    if (order == LADDER_NOT_ALL_PLAYED)
        cJSON_AddNullToObject(object, "monotone");
    else
        cJSON_AddBoolToObject(object, "monotone", order == LADDER_RISES);
    if (suite) {
        cJSON *member = cJSON_AddObjectToObject(object, "suite");
        cJSON_AddNumberToObject(member, "positions", (double)suite->count);
        cJSON_AddNumberToObject(member, "seeds", LADDER_SUITE_SEEDS);
    }
    if (cost)
        cost_json(object, cost);
    return json_print_line(out, object);
}

static void print_csv(FILE *out, const Ladder *ladder, const RunCost *cost)
{
    fputs("level,measured,measured_low,measured_high,against,pairs,score_promised,"
          "score,score_low,score_high,elo,elo_low,elo_high,solved\n",
          out);
    for (int i = 0; i < ladder->count; i++) {
        const LadderLevel *level = &ladder->levels[i];
        double spread = ladder_rating_spread(level);
        fprintf(out, "%d", level->elo);
        csv_reals(out, (double[]){level->measured, level->measured - spread, level->measured + spread}, 3);
        if (i == 0) {
            fputs(",,,,,,,,,", out);
        } else {
            const MatchEstimate *step = &ladder->steps[i - 1];
            fprintf(out, ",%d,%" PRIu64, ladder->levels[i - 1].elo, step->pairs);
            csv_reals(out,
                      (double[]){ladder_promise(ladder, i - 1), step->score, step->score_interval.low,
                                 step->score_interval.high, step->elo, step->elo_interval.low,
                                 step->elo_interval.high},
                      7);
        }
        csv_reals(out, &level->solved, 1);
        fputc('\n', out);
    }
    if (cost)
        cost_csv(out, cost);
}

bool ladder_print(void *context, FILE *out, const StoredRun *run, RunFormat format, const RunCost *cost)
{
    const LadderSuite *suite = context;
    Ladder ladder;
    bool good = ladder_read(&ladder, run) && (!suite || ladder_suite_solve(suite, &ladder));
    if (good && format == RUN_AS_JSON)
        good = print_json(out, &ladder, suite, run, cost);
    else if (good && format == RUN_AS_CSV)
        print_csv(out, &ladder, cost);
    else if (good)
        print_text(out, &ladder, suite, cost);
    return good;
}
