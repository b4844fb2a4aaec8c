/* Positions as people write them by hand, made into what the standard asks for. */
#ifndef PAWNVANE_FEN_MEND_H
#define PAWNVANE_FEN_MEND_H

#include "engine/rules/fen.h"

enum { FEN_REMARK_SIZE = 256 };

/* Returns a line of FEN or EPD, to be freed, in which
 *
 * - the fields that are missing at its end are there: White to move, no castling, no en passant;
 * - W and B say whose move it is, as w and b do;
 * - castling rights and an en passant square that cannot be are dropped.
 *
 * `remark` then says what the reader should know, empty for nothing. What is wrong beyond that stays as it is. Null
 * if memory runs out. */
char *fen_mend(const char *text, char remark[FEN_REMARK_SIZE]);

/* Reads a skeleton, as books print it: pawns and nothing else, on the second to the seventh rank. The fields behind
 * the placement are those of fen_parse(), castling and en passant none. On success *rest is what stands behind
 * them. */
bool fen_read_skeleton(const char *text, Position *position, const char **rest);

#endif
