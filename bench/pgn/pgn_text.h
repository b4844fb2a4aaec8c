/* Pieces of the text of a PGN file. */
#ifndef PAWNVANE_PGN_TEXT_H
#define PAWNVANE_PGN_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* A piece of a longer text; nothing ends it. */
typedef struct PgnText {
    const char *start;
    size_t length;
} PgnText;

bool pgn_text_is(PgnText text, const char *word);

/* Copies a tag value as a string of well-formed UTF-8 for people: \" and \\ are read as the
 * standard says, white space and control characters become single spaces, and text that is not UTF-8 is
 * taken for Latin-1 as it is found in files, which is Windows-1252. What does not fit is left out, by whole
 * characters. Returns the length. */
size_t pgn_text_copy(PgnText text, char *buffer, size_t size);

/* The same for a comment, in which a backslash is a character like others. */
size_t pgn_comment_copy(PgnText text, char *buffer, size_t size);

#endif
