#include "engine/search/clock.h"

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

/* In sudden death a game is taken to last HORIZON more moves, wherever it stands; the hard limit may borrow
 * from the moves to come, but leaves enough for them (common practice, no source). The less is left the less
 * of the share is used: on a busy machine a move takes some milliseconds more than planned, and what is left
 * at the end of a long game must be a multiple of that (CUSHION is tuned: 40 games at 1 s + 10 ms, four at
 * a time on two processors, none lost on time). */
ClockShare clock_share(const ClockState *clock)
{
    enum { HORIZON = 28, MOST_MOVES = 40, CUSHION = 6 };
    int64_t usable = at_least_one(clock->left - clock->reserve);
    int moves = clock->moves_to_go > 0 ? clock->moves_to_go : HORIZON;
    moves = moves < MOST_MOVES ? moves : MOST_MOVES;
    int64_t cushion = CUSHION * clock->reserve;
    int64_t soft = (usable / moves + clock->increment * 3 / 4) * usable / (usable + cushion);
    int64_t most = moves == 1 ? usable * 9 / 10 : usable * 4 / 10;
    int64_t hard = soft * 4 < most ? soft * 4 : most;
    return (ClockShare){.soft = at_least_one(soft < hard ? soft : hard), .hard = at_least_one(hard)};
}
