/* What time it is, and how long to think about a move. */
#ifndef PAWNVANE_CLOCK_H
#define PAWNVANE_CLOCK_H

#include "engine/search/parameters.h"

#include <stdint.h>

/* Microseconds since some moment in the past. */
int64_t clock_now_us(void);

/* All in milliseconds. */
typedef struct ClockState {
    int64_t left, increment;
    int moves_to_go; /* to the next time control, 0: none */
    int64_t reserve; /* kept back for a slow line to the opponent */
    int move;        /* the number of the move to be made, as in FEN */
} ClockState;

typedef struct ClockShare {
    int64_t soft, hard; /* see SearchLimits; both at least 1 */
} ClockShare;

/* Never plans with more than what is left less the reserve. */
ClockShare clock_share(const Parameters *parameters, const ClockState *clock);

/* What the moves of a game have taken of their soft limits. */
typedef struct ClockUse {
    int moves;
    int64_t percent; /* summed over the moves */
} ClockUse;

/* What the next soft limit is to be multiplied by, in percent: more than 100 if the moves so far have left a part of
 * theirs. */
int clock_stretch(const Parameters *parameters, const ClockUse *use);

/* The part of the soft limit to use, in percent: less while the choice has stood for `stable` iterations and
 * has taken `effort` percent of the nodes, more when it has just changed or the score has fallen by `drop`
 * centipawns. */
int clock_percent(const Parameters *parameters, int stable, int effort, int drop);

#endif
