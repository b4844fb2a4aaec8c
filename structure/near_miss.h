/* Private to structure/: where the rule is usually misread. */
#ifndef PAWNVANE_STRUCTURE_NEAR_MISS_H
#define PAWNVANE_STRUCTURE_NEAR_MISS_H

#include "structure/pawns.h"

/* Sets near_misses and near_miss_count, from the pairs of the analysis. */
void ps_find_near_misses(ps_analysis *analysis, Bitboard white_pawns, Bitboard black_pawns);

#endif
