/* A position as the structure library wants to see it. */
#ifndef PAWNVANE_STRUCTURE_VIEW_H
#define PAWNVANE_STRUCTURE_VIEW_H

#include "engine/rules/position.h"
#include "structure/structure.h"

/* Fills a board from a position. The board refers to the position, which must stay unchanged as long as the
 * board is used. */
void structure_view(const Position *position, ps_board *board);

#endif
