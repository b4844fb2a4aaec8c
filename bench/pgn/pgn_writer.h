/* Writes games as portable game notation (S. Edwards, PGN standard, 1994) in export format: lines of at most
 * 79 characters, one space between tokens.
 *
 *     PgnWriter writer = {.out = out};
 *     pgn_write_tag(&writer, "Event", "Kestrel Hill v. Lower Quay");
 *     pgn_begin_moves(&writer);
 *     pgn_write_move(&writer, &position, move);
 *     pgn_write_glyph(&writer, 1);
 *     pgn_write_comment(&writer, "The lever is ready.");
 *     pgn_end_game(&writer, "1-0");
 *
 * Nothing is checked while writing: ask the stream at the end. */
#ifndef PAWNVANE_PGN_WRITER_H
#define PAWNVANE_PGN_WRITER_H

#include "engine/rules/position.h"

#include <stdio.h>

typedef struct PgnWriter {
    FILE *out;
    size_t column;
    bool wants_number; /* the next move needs its number, whoever plays it */
    char prefix[4];    /* stands before the next token, without a space */
    int depth;         /* of variations */
} PgnWriter;

void pgn_write_tag(PgnWriter *writer, const char *name, const char *value);

/* The seven tags that every game has (section 8.1.1), in their order; null is "?". */
typedef struct PgnRoster {
    const char *event, *site, *date, *round, *white, *black, *result;
} PgnRoster;

void pgn_write_roster(PgnWriter *writer, const PgnRoster *roster);

/* SetUp and FEN, unless it is the initial position. */
void pgn_write_start(PgnWriter *writer, const Position *start);

/* Behind the last tag. */
void pgn_begin_moves(PgnWriter *writer);

/* A legal move of the position, with its number where one is needed; NO_MOVE is written "--". */
void pgn_write_move(PgnWriter *writer, const Position *position, Move move);

/* A numeric annotation glyph (section 10) of the move before; 0 writes nothing. */
void pgn_write_glyph(PgnWriter *writer, int glyph);

/* A comment; without words nothing is written. A closing brace cannot stand in one and
 * becomes a parenthesis. */
void pgn_write_comment(PgnWriter *writer, const char *text);

/* Around moves that could have been played instead of the last one. */
void pgn_begin_variation(PgnWriter *writer);
void pgn_end_variation(PgnWriter *writer);

/* "1-0", "0-1", "1/2-1/2" or "*". */
void pgn_end_game(PgnWriter *writer, const char *result);

#endif
