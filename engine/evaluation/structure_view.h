/* A position as the structure library wants to see it. */
#ifndef PAWNVANE_STRUCTURE_VIEW_H
#define PAWNVANE_STRUCTURE_VIEW_H

#include "engine/rules/position.h"
#include "structure/structure.h"

/* Fills a board from a position. The board refers to the position, which must stay unchanged as long as the
 * board is used. */
void structure_view(const Position *position, ps_board *board);

/* What the library sees in the position, and the sentences about it: see ps_analyse(), ps_explain(). */
void structure_analyse(const Position *position, ps_analysis *analysis);
void structure_explain(const Position *position, const ps_analysis *analysis, char *text, size_t size);

#endif
