/* A position as a diagram of plain text, with what is locked in it.
 *
 *     7   p   p   .   n   b   p   p   p
 *
 *     6   .   .   n   .   p  (.)  .   .
 *                       / |
 *     5   .   .  [.]<-p   P->[.]  .   .
 *                     | /
 *     4   .   .   .   P   .   .   .   .
 *
 * Between the ranks stand rams ( | ) and the links of chains ( / and \ ). Each side's principal chain has an
 * arrow from the head to the pointed file; [ ] is the square of its base lever, ( ) of its head lever. X is
 * where two signs meet. */
#ifndef PAWNVANE_TEXT_DIAGRAM_H
#define PAWNVANE_TEXT_DIAGRAM_H

#include "engine/rules/position.h"
#include "structure/structure.h"

#include <stdio.h>

/* Prints the board, 16 lines, White below. `analysis` must be of that position. */
void text_diagram_print(FILE *out, const Position *position, const ps_analysis *analysis);

/* Prints one line that says what the signs mean. */
void text_diagram_print_legend(FILE *out);

#endif
