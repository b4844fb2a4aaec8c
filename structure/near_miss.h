/* Private to structure/: where the rule is usually misread. */
#ifndef PAWNVANE_STRUCTURE_NEAR_MISS_H
#define PAWNVANE_STRUCTURE_NEAR_MISS_H

#include "structure/pawns.h"

/* The set of near misses, bit 0 for the first ps_near_miss. `pairs` is the set of lower files of all locked
 * pairs. */
unsigned ps_find_near_misses(unsigned pairs, Bitboard white_pawns, Bitboard black_pawns);

#endif
