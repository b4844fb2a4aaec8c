/* Tag pairs of PGN files, and where a new game begins. */
#ifndef PAWNVANE_PGN_TAGS_H
#define PAWNVANE_PGN_TAGS_H

#include "bench/pgn/pgn_text.h"

typedef struct PgnTag {
    PgnText name;
    PgnText value; /* between the quotes, as it stands there: see pgn_text_copy() */
} PgnTag;

/* Reads the tag pair whose bracket is at `at`, in a text that a zero byte ends. Returns what stands behind
 * it, null if it is no tag pair on one line. */
const char *pgn_read_tag(const char *at, PgnTag *tag);

/* Whether a new game begins at `at`, whatever stands before it, be it an unclosed comment: at the first tag
 * pair of its line, if the next line goes on like a game (tag pair, empty, first move or end), and either the
 * line before (empty lines, escapes and line comments left out) is no tag pair, or it is an Event behind an
 * empty line. `at` is within begin .. end; the text must show the next line if there is one. */
bool pgn_game_begins(const char *begin, const char *end, const char *at);

#endif
