#include "bench/ladder/ladder.h"
#include "bench/base/complaint.h"
#include "bench/run/match_summary.h"

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
        ladder->levels[i] = (LadderLevel){.elo = elo_of_arm(&run->arms[i]), .solved = NAN};
    for (int i = 0; i < run->match_count; i++)
        ladder->steps[i] = summaries[i].all.estimate;
    free(summaries);
    add_up(ladder);
    return true;
}

double ladder_rating_spread(const LadderLevel *level)
{
    return normal_quantile(0.975) * level->error;
}

double ladder_promise(const Ladder *ladder, int step)
{
    return score_from_elo(ladder->levels[step + 1].elo - ladder->levels[step].elo);
}

LadderOrder ladder_order(const Ladder *ladder)
{
    LadderOrder order = LADDER_RISES;
    for (int i = 0; i + 1 < ladder->count; i++) {
        if (ladder->steps[i].pairs == 0)
            return LADDER_NOT_ALL_PLAYED;
        if (ladder->steps[i].elo <= 0)
            order = LADDER_FALLS_SOMEWHERE;
    }
    return order;
}
