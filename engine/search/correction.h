/* How far the static score lies from what searches find, learned from the search itself for positions with
 * the same pawns, with the same pieces of the side to move, with the same pieces of the other side, and behind the
 * same move. Each of the four learns what the sum of all leaves over and forgets as it learns, so that an error that
 * stays is corrected to a part: four fifths of it. */
#ifndef PAWNVANE_CORRECTION_H
#define PAWNVANE_CORRECTION_H

#include "engine/rules/position.h"

#include <stdint.h>

enum { CORRECTION_KINDS = 4, CORRECTION_TABLE = 16384 };

typedef struct Corrections {
    int32_t mean[SIDE_COUNT][CORRECTION_KINDS][CORRECTION_TABLE]; /* 1/256 centipawns */
} Corrections;

/* What to add to the static score of a position, in centipawns for the side to move. `last` is the move before it as
 * role_square() counts moves, or -1. */
int correction_of(Corrections *c, const Position *position, int last);

/* A search of that depth found the corrected score off by so many centipawns. Deeper searches weigh more. */
void correction_learn(Corrections *c, const Position *position, int last, int difference, int depth);

#endif
