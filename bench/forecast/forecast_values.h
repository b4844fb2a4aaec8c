/* Squares, moves and keys in the store of a forecast. */
#ifndef PAWNVANE_FORECAST_VALUES_H
#define PAWNVANE_FORECAST_VALUES_H

#include "bench/base/database.h"
#include "engine/rules/move.h"

enum { FORECAST_MOVE_ROOM = 8 };

/* "f5"; PS_NO_SQUARE is null. */
void bind_square(Binder *binder, int square);
int take_square(Fields *fields, bool may_be_null);

/* 64 bits in hexadecimal. */
void bind_hex(Binder *binder, uint64_t number);
uint64_t take_hex(Fields *fields);

/* A move without its position: castling is the king taking its rook, and the kind of what is neither that nor plain is
 * written behind it as a digit. "--" is NO_MOVE. */
void forecast_write_move(Move move, char text[FORECAST_MOVE_ROOM]);

/* What that writes; NO_MOVE for anything shorter. Clears *good if it cannot be. */
Move forecast_read_move(const char *text, size_t length, bool *good);

#endif
