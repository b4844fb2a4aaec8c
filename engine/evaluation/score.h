/* What a score means: centipawns for the side to move or, beyond a floor, a mate counted in plies from the
 * root of the search. */
#ifndef PAWNVANE_SCORE_H
#define PAWNVANE_SCORE_H

#include "engine/evaluation/clamp.h"

#include <stdbool.h>

enum {
    MAX_PLY = 128,
    SCORE_DRAW = 0,
    SCORE_MATE = 32000,                          /* mated now; a mate in n plies is SCORE_MATE - n */
    SCORE_MATE_FLOOR = SCORE_MATE - 2 * MAX_PLY, /* from here on a score means mate */
    SCORE_INFINITE = 32001,
    SCORE_NONE = 32002
};

/* How a search result is to be read: no more, no less, or exactly that score. */
typedef enum Bound { BOUND_NONE, BOUND_UPPER, BOUND_LOWER, BOUND_EXACT } Bound;

/* The side to move mates. */
static inline bool score_is_win(int score)
{
    return score >= SCORE_MATE_FLOOR;
}

/* The side to move is mated. */
static inline bool score_is_loss(int score)
{
    return score <= -SCORE_MATE_FLOOR;
}

static inline bool score_is_mate(int score)
{
    return score_is_win(score) || score_is_loss(score);
}

/* Moves (not plies) to mate, negative if the side to move is mated. Only for mate scores. */
static inline int score_mate_moves(int score)
{
    return score > 0 ? (SCORE_MATE - score + 1) / 2 : -(SCORE_MATE + score) / 2;
}

/* The score of a mate in so many moves, the inverse of that; a mate by the mover has the odd ply. */
static inline int score_of_mate(int moves)
{
    return moves > 0 ? SCORE_MATE - 2 * moves + 1 : -SCORE_MATE - 2 * moves;
}

/* The score of the side to move that is mated so many plies from the root. */
static inline int score_mated_at(int ply)
{
    return -SCORE_MATE + ply;
}

/* The nearest score that does not mean mate. */
static inline int score_without_mate(int score)
{
    return clamp(score, -SCORE_MATE_FLOOR + 1, SCORE_MATE_FLOOR - 1);
}

enum { SCORE_TEXT_SIZE = 24 };

/* For people: "+0.35" pawns, "mate in 3", "mated in 2". */
void score_write_pawns(int score, char text[SCORE_TEXT_SIZE]);

/* For tables: "+35", "mate 3", "mate -2". */
void score_write_centipawns(int score, char text[SCORE_TEXT_SIZE]);

#endif
