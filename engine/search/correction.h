/* How far the static score lies from what searches find, learned from the search itself for positions with
 * the same pawns, with the same pieces of the side to move, and with the same pieces of the other side. Each
 * of the three learns what the sum of all leaves over and forgets as it learns, so that an error that stays
 * is corrected to a part: three quarters of it. */
#ifndef PAWNVANE_CORRECTION_H
#define PAWNVANE_CORRECTION_H

#include "engine/rules/position.h"
#include "engine/search/parameters.h"

#include <stdint.h>

enum { CORRECTION_KINDS = 3, CORRECTION_TABLE = 16384 };

typedef struct Corrections {
    int32_t mean[SIDE_COUNT][CORRECTION_KINDS][CORRECTION_TABLE]; /* 1/256 centipawns */
} Corrections;

/* What to add to the static score of a position, in centipawns for the side to move. */
int correction_of(Corrections *c, const Parameters *parameters, const Position *position);

/* A search of that depth found the corrected score off by so many centipawns. Deeper searches weigh more. */
void correction_learn(Corrections *c, const Position *position, int difference, int depth);

#endif
