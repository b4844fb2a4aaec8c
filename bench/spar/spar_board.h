/* A position in words and letters that a screen reader can read and a narrow terminal can hold. */
#ifndef PAWNVANE_SPAR_BOARD_H
#define PAWNVANE_SPAR_BOARD_H

#include "engine/rules/position.h"

#include <stdio.h>

/* Eight ranks of letters, the side's own nearest to the reader: capitals are White. */
void spar_board_print(FILE *out, const Position *position, Side below);

/* Two sentences: where each side's men stand. */
void spar_board_print_words(FILE *out, const Position *position);

/* A sentence: who may still castle, and where. No board shows that. */
void spar_board_print_castling(FILE *out, const Position *position);

#endif
