/* Moves as text: standard algebraic notation (SAN; S. Edwards, PGN standard, 1994, section 8.2.3) and the
 * long algebraic notation of the UCI protocol. */
#ifndef PAWNVANE_NOTATION_H
#define PAWNVANE_NOTATION_H

#include "engine/rules/movegen.h"

#include <stddef.h>

/* Room for any move either writer makes, with its end of string: "Qa1xb2+" is among the longest. */
enum { MOVE_TEXT_SIZE = 12 };

typedef enum NotationError {
    NOTATION_OK,
    NOTATION_NOT_A_MOVE, /* the text has not the form of a move */
    NOTATION_ILLEGAL,    /* no legal move fits it */
    NOTATION_AMBIGUOUS   /* several legal moves fit it */
} NotationError;

/* What is wrong, in a few English words. Never null. */
const char *notation_error_text(NotationError error);

/* Writes a legal move in SAN export format: the least disambiguation, x, =Q, + or #, O-O. */
void san_write(const Position *p, Move move, char text[MOVE_TEXT_SIZE]);

/* Reads a move of the position in SAN. Lenient where files are: the x, the check sign, the = of a promotion
 * and ep may be missing or there, disambiguation may be more than is needed, castling may be written with
 * zeros, ! and ? may follow, figurines of either colour may stand for letters. *move is set only on
 * NOTATION_OK. */
NotationError san_parse(const Position *p, const char *text, Move *move);

/* The same for a text of that length, which nothing needs to end: made for reading games by the million. */
NotationError san_read(const Position *p, const char *text, size_t length, Move *move);

/* The most bytes of a figurine. */
enum { FIGURINE_SIZE = 6 };

/* Reads the sign of a man, U+2654 to U+265F (Unicode, "Chess symbols") in UTF-8, with the variation selector
 * that may follow it, as its letter, one of KQRBNP. Returns its bytes, 0 if none begins the text. */
size_t figurine_read(const char *text, size_t length, char *letter);

/* Writes e2e4, e7e8q; castling as e1g1, in Chess960 positions as the king taking its rook. */
void lan_write(const Position *p, Move move, char text[MOVE_TEXT_SIZE]);

/* Reads what lan_write() writes; castling in either way. *move is set only on NOTATION_OK. */
NotationError lan_parse(const Position *p, const char *text, Move *move);

/* Writes a square as two letters and an end of string. */
void square_write(Square square, char text[3]);

/* Reads two letters as a square; NO_SQUARE if they are none. */
Square square_read(const char *text);

#endif
