/* The position that a game of a PGN file starts from. */
#ifndef PAWNVANE_PGN_START_H
#define PAWNVANE_PGN_START_H

#include "bench/pgn/pgn_text.h"
#include "engine/rules/position.h"

/* The values of the tags that say it; empty for those that are not there. */
typedef struct PgnStartTags {
    PgnText variant, set_up, fen;
} PgnStartTags;

enum { PGN_START_ERROR_SIZE = 256 };

/* Sets up the position: the initial one without a FEN, or with SetUp "0". Without a Variant it is a Chess960
 * position if only that explains its castling rights. Returns null, or the value that is wrong, with what was
 * expected in `error`; *start is then not set. */
const PgnText *pgn_read_start(const PgnStartTags *tags, Position *start, char error[PGN_START_ERROR_SIZE]);

#endif
