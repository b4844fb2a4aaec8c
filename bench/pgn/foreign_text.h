/* Text that is good in itself, but not what the standards ask for: who is told its name knows what to do. */
#ifndef PAWNVANE_FOREIGN_TEXT_H
#define PAWNVANE_FOREIGN_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* Whether a file that begins with these bytes is UTF-16, with or without a byte order mark (Unicode Standard,
 * section 23.8): of text in Latin letters every other byte is then zero. */
bool is_utf16(const char *bytes, size_t length);
#define UTF16_COMPLAINT "looks like UTF-16; expected UTF-8, as \"iconv -f UTF-16 -t UTF-8\" writes it"

enum { FOREIGN_HINT_SIZE = 96 };

/* Says of a move, and of the placement of a FEN, that it has the letters of the German men: K D T L S B for king,
 * queen, rook, bishop, knight and pawn (PGN standard, 1994, section 8.2.3.2 in all languages that it lists). An
 * empty string if it has none of those that are no English letters, too. `hint` is returned. */
const char *german_move_hint(const char *move, size_t length, char hint[FOREIGN_HINT_SIZE]);
const char *german_placement_hint(const char *placement, size_t length, char hint[FOREIGN_HINT_SIZE]);

#endif
