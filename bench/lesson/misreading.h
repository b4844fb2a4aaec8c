/* How a position is usually misread, in words for a class. */
#ifndef PAWNVANE_MISREADING_H
#define PAWNVANE_MISREADING_H

#include "structure/structure.h"

enum { MISREADINGS_MAX = 3 };

/* Finds the misreadings that threaten in a position, most telling first, at least one. Returns how many. */
int misreadings_of(const ps_analysis *analysis, ps_side to_move, const char *texts[MISREADINGS_MAX]);

#endif
