/* What stands in movetext besides ASCII letters and digits: figurines, blanks, signs of evaluation. */
#ifndef PAWNVANE_PGN_SIGN_H
#define PAWNVANE_PGN_SIGN_H

#include "bench/pgn/pgn_text.h"

typedef enum PgnSignKind {
    PGN_SIGN_STRANGE,  /* nothing that belongs into movetext */
    PGN_SIGN_FIGURINE, /* a part of a move: U+2654 to U+265F */
    PGN_SIGN_BLANK,    /* a space of another width, an ellipsis, a byte order mark */
    PGN_SIGN_CHECK,    /* behind a move, in place of + or # */
    PGN_SIGN_REMARK    /* a sign about a move, like that for a clear advantage */
} PgnSignKind;

/* What the character at `at`, a byte from 80 (hexadecimal) on, is, and how many bytes it has: UTF-8, else a
 * single byte of Windows-1252. A zero byte must end the text somewhere. */
PgnSignKind pgn_sign_kind(const char *at, size_t *length);

/* The numeric annotation glyph (PGN standard, 1994, section 10) that a sign or a group of ASCII signs stands
 * for, "+-" for one; 0 for those that have none. */
int pgn_sign_glyph(PgnText text);

#endif
