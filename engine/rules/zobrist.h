/* The fixed random keys behind Position.key and Position.pawn_key (A. Zobrist, "A New Hashing Method with
 * Application for Game Playing", 1970). The same on every machine. */
#ifndef PAWNVANE_ZOBRIST_H
#define PAWNVANE_ZOBRIST_H

#include "engine/rules/move.h"

extern uint64_t zobrist_man[SIDE_COUNT][ROLE_COUNT][SQUARE_COUNT];
extern uint64_t zobrist_castling[SQUARE_COUNT]; /* by the square of the rook */
extern uint64_t zobrist_en_passant[FILE_COUNT];
extern uint64_t zobrist_black_to_move;

#endif
