/* Private to structure/: pawn captures that may dissolve a locked chain. */
#ifndef PAWNVANE_STRUCTURE_TENSION_H
#define PAWNVANE_STRUCTURE_TENSION_H

#include "structure/pawns.h"

/* The captures of a side that take a pawn of a locked chain or are made by one. `locked` holds the pawns of
 * both sides that stand in locked chains. */
void ps_find_tension(ps_capture_list *out, const ps_board *board, Side side, Bitboard locked);

#endif
