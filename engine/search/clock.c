#include "engine/search/clock.h"

#include "engine/evaluation/clamp.h"

#include <time.h>

int64_t clock_now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static int64_t at_least_one(int64_t value)
{
    return value > 1 ? value : 1;
}

static int64_t percent_of(int64_t value, int percent)
{
    return value * percent / 100;
}

/* What the time that is left is shared out among. In 550 games of the engine against itself, adjudicated where they were
 * decided, as many moves were still to come on average: 54 at move 10, 46 at 20, 38 at 30, 31 at 40, 25 at 50 and 24 from
 * 60 on. The parameters are about four fifths of that: what is still on the clock at the end was of no use. */
static int moves_to_come(const Parameters *parameters, int move)
{
    return at_least(parameters->clock_horizon - parameters->clock_shrink * move / 100,
                    parameters->clock_tail);
}

/* The hard limit may borrow from the moves to come, but leaves enough for them. The less is left the less of
 * the share is used: on a busy machine a move takes some milliseconds more than planned, and what is left at
 * the end of a long game must be a multiple of that (CLOCK_CUSHION is tuned
 * at 1 s + 10 ms beside five to eight busy processes on two processors: with 6 reserves 5 of 93 games were lost on time,
 * with 10 one of 2,000, both with a shorter tail). */
ClockShare clock_share(const Parameters *parameters, const ClockState *clock)
{
    int64_t usable = at_least_one(clock->left - clock->reserve);
    int moves = clock->moves_to_go > 0 ? at_most(clock->moves_to_go, CLOCK_MOST_MOVES)
                                       : moves_to_come(parameters, clock->move);
    int64_t cushion = CLOCK_CUSHION * clock->reserve;
    int64_t soft = (usable / moves + percent_of(clock->increment, parameters->clock_increment)) * usable /
                   (usable + cushion);
    int64_t most = percent_of(usable, clock->moves_to_go == 1 ? CLOCK_MOST_LAST : CLOCK_MOST);
    int64_t hard = percent_of(soft, parameters->clock_hard);
    hard = hard < most ? hard : most;
    return (ClockShare){.soft = at_least_one(soft < hard ? soft : hard), .hard = at_least_one(hard)};
}

/* The deeper a search is, the longer its choice has stood, and the less of its share it takes: the longer the searches
 * were, the more was left of the clock at the end of a game (DEVELOPERS.md). */
int clock_stretch(const Parameters *parameters, const ClockUse *use)
{
    int64_t moves = use->moves + CLOCK_USE_PRIOR;
    int64_t percent = use->percent + (int64_t)100 * CLOCK_USE_PRIOR;
    return clamp((int)(10000 * moves / percent), 100, parameters->share_stretch);
}

int clock_percent(const Parameters *parameters, int stable, int effort, int drop)
{
    int percent =
        parameters->share_first - parameters->share_stable * at_most(stable, parameters->share_stable_most);
    percent =
        percent * (parameters->share_effort - effort) / 100 + clamp(drop, 0, parameters->share_drop_most);
    return at_least(percent, parameters->share_least);
}
