/* Scores: centipawns for the side to move, and mates counted in plies from the root. */
#ifndef PAWNVANE_SCORE_H
#define PAWNVANE_SCORE_H

#include <stdbool.h>

enum {
    MAX_PLY = 128,
    SCORE_DRAW = 0,
    SCORE_MATE = 32000,                          /* mated now; a mate in n plies is SCORE_MATE - n */
    SCORE_MATE_FLOOR = SCORE_MATE - 2 * MAX_PLY, /* from here on a score means mate */
    SCORE_INFINITE = 32001,
    SCORE_NONE = 32002
};

typedef enum Bound { BOUND_NONE, BOUND_UPPER, BOUND_LOWER, BOUND_EXACT } Bound;

static inline bool score_is_mate(int score)
{
    return score >= SCORE_MATE_FLOOR || score <= -SCORE_MATE_FLOOR;
}

/* Moves (not plies) to mate, negative if the side to move is mated. Only for mate scores. */
static inline int score_mate_moves(int score)
{
    return score > 0 ? (SCORE_MATE - score + 1) / 2 : -(SCORE_MATE + score) / 2;
}

#endif
