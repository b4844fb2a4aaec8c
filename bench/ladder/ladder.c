#include "bench/ladder/ladder.h"
#include "bench/base/complaint.h"
#include "bench/run/match_summary.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int elo_of_arm(const StoredArm *arm)
{
    const char *place = strstr(arm->parameters, "elo=");
    return place ? atoi(place + strlen("elo=")) : 0;
}

static double step_error(const MatchEstimate *step)
{
    return (step->elo_interval.high - step->elo_interval.low) / (2 * normal_quantile(0.975));
}

static void add_up(Ladder *ladder)
{
    LadderLevel *levels = ladder->levels;
    for (int i = 1; i < ladder->count; i++)
        if (abs(levels[i].elo - LADDER_ANCHOR) < abs(levels[ladder->anchor].elo - LADDER_ANCHOR))
            ladder->anchor = i;
    levels[ladder->anchor].measured = levels[ladder->anchor].elo;
    for (int i = ladder->anchor; i + 1 < ladder->count; i++) {
        levels[i + 1].measured = levels[i].measured + ladder->steps[i].elo;
        levels[i + 1].error = hypot(levels[i].error, step_error(&ladder->steps[i]));
    }
    for (int i = ladder->anchor; i > 0; i--) {
        levels[i - 1].measured = levels[i].measured - ladder->steps[i - 1].elo;
        levels[i - 1].error = hypot(levels[i].error, step_error(&ladder->steps[i - 1]));
    }
}

bool ladder_read(Ladder *ladder, const StoredRun *run)
{
    MatchSummary *summaries = run_summarise(run, &(Questions){0});
    if (!summaries) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    *ladder = (Ladder){.count = run->arm_count};
    for (int i = 0; i < run->arm_count; i++)
        ladder->levels[i].elo = elo_of_arm(&run->arms[i]);
    for (int i = 0; i < run->match_count; i++)
        ladder->steps[i] = summaries[i].all.estimate;
    free(summaries);
    add_up(ladder);
    return true;
}

bool ladder_print(FILE *out, const StoredRun *run)
{
    Ladder ladder;
    bool monotone = true;
    if (!ladder_read(&ladder, run))
        return false;
    fputs("Each level against the one below it, with 95 % intervals; measured: the rating by these games, as "
          "far as\n"
          "they tell it apart from that of the anchor.\n\n"
          " level  pairs   score  +-   promised    Elo above             measured  +-\n",
          out);
    for (int i = 0; i < ladder.count; i++) {
        const LadderLevel *level = &ladder.levels[i];
        fprintf(out, "%6d", level->elo);
        if (i == 0) {
            fprintf(out, "%55s", "");
        } else {
            const MatchEstimate *step = &ladder.steps[i - 1];
            char interval[ELO_TEXT_SIZE], elo[ELO_TEXT_SIZE];
            monotone &= step->elo > 0;
            fprintf(out, " %6" PRIu64 " %6.1f%% %4.1f    %5.1f%%   %6s %-22s", step->pairs, 100 * step->score,
                    50 * (step->score_interval.high - step->score_interval.low),
                    100 * score_from_elo(level->elo - ladder.levels[i - 1].elo), elo_text(step->elo, elo),
                    step->pairs ? elo_interval_text(step->elo_interval, interval) : "");
        }
        if (i == ladder.anchor)
            fprintf(out, " %6.0f  anchor\n", level->measured);
        else
            fprintf(out, " %6.0f %3.0f\n", level->measured, normal_quantile(0.975) * level->error);
    }
    fprintf(out, "\n%s\n",
            monotone ? "Each level is better than the one below it."
                     : "Not every level is better than the one below it: the scale is not monotone.");
    return true;
}
