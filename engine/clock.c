#include "engine/clock.h"

static int64_t at_least_one(int64_t value)
{
    return value > 1 ? value : 1;
}

/* In sudden death a game is taken to last HORIZON more moves, wherever it stands; the hard limit may borrow
 * from the moves to come, but leaves enough for them (common practice, no source). */
ClockShare clock_share(const ClockState *clock)
{
    enum { HORIZON = 28, MOST_MOVES = 40 };
    int64_t usable = at_least_one(clock->left - clock->reserve);
    int moves = clock->moves_to_go > 0 ? clock->moves_to_go : HORIZON;
    moves = moves < MOST_MOVES ? moves : MOST_MOVES;
    int64_t soft = usable / moves + clock->increment * 3 / 4;
    int64_t most = moves == 1 ? usable * 9 / 10 : usable * 6 / 10;
    int64_t hard = soft * 4 < most ? soft * 4 : most;
    return (ClockShare){.soft = at_least_one(soft < hard ? soft : hard), .hard = at_least_one(hard)};
}
