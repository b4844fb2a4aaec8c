/* What makes a player as weak as a rating says: fewer positions looked at, judgements that err where it is sharp, and
 * levers that are not seen. How the levels were found is said in README.md; `pawnvane-bench ladder` repeats it. */
#ifndef PAWNVANE_STRENGTH_H
#define PAWNVANE_STRENGTH_H

#include "engine/evaluation/misjudgement.h"
#include "engine/rules/movegen.h"

/* The bounds of the ratings, and how far the levels between them are apart; macros, for texts of help. */
#define STRENGTH_LEAST 1000
#define STRENGTH_MOST 2400
enum { STRENGTH_STEP = 200 };

typedef struct Strength {
    int nodes;  /* positions a move at most */
    int error;  /* Misjudgement.size, centipawns */
    int misses; /* on how many of a thousand moves it does not see that it can play a lever */
} Strength;

/* Between the levels that were calibrated it goes evenly. `elo` is cut to the bounds. */
Strength strength_of(int elo);

/* Whether the player does not see levers in this position. */
bool strength_misses(const Strength *strength, uint64_t seed, const Position *position);

/* Takes the side to move's breaks out of a list of its moves, unless nothing else is in it. */
void strength_leave_out_breaks(const Position *position, MoveList *moves);

#endif
