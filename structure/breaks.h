/* Private to structure/: pawn pushes that attack a pawn. */
#ifndef PAWNVANE_STRUCTURE_BREAKS_H
#define PAWNVANE_STRUCTURE_BREAKS_H

#include "structure/lever.h"

/* The breaks of a side, whoever is to move; their kind comes from the chains of the analysis. */
void ps_find_breaks(ps_break_list *out, const ps_analysis *analysis, const ps_board *board, Side side);

#endif
