/* Numeric annotation glyphs (NAGs) in movetext: PGN standard, 1994, section 10. */
#ifndef PAWNVANE_PGN_GLYPH_H
#define PAWNVANE_PGN_GLYPH_H

#include "bench/pgn/pgn_text.h"

/* Reads "$N" and returns its length, 0 if no number follows the $. *glyph is 0 to 255, or -1 for a greater
 * number, which means nothing. */
size_t pgn_glyph_read(const char *at, int *glyph);

/* The glyph that marks of a move (! ? !! ?? !? ?!) or a sign of evaluation stand for; 0 for none. */
int pgn_glyph_of(PgnText text);

#endif
