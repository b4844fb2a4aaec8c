/* Roles and moves. */
#ifndef PAWNVANE_MOVE_H
#define PAWNVANE_MOVE_H

#include "structure/bitboard.h"

typedef enum Role { NO_ROLE = -1, PAWN, KNIGHT, BISHOP, ROOK, QUEEN, KING } Role;

enum { ROLE_COUNT = 6 };

/* A move in 16 bits: origin (6), destination (6), kind (4). Castling is written as the king taking its own
 * rook, which is unambiguous in every start position. */
typedef uint16_t Move;

#define NO_MOVE ((Move)0)

typedef enum MoveKind {
    NO_MOVE_KIND = -1,
    PLAIN,
    CASTLING,
    EN_PASSANT,
    PROMOTION = 4 /* plus 0..3 for knight, bishop, rook, queen */
} MoveKind;

static inline Move move_make(Square from, Square to, MoveKind kind)
{
    return (Move)((unsigned)from | ((unsigned)to << 6) | ((unsigned)kind << 12));
}

static inline Move promotion_make(Square from, Square to, Role role)
{
    return move_make(from, to, PROMOTION + role - KNIGHT);
}

static inline Square move_from(Move move)
{
    return move & 63;
}

static inline Square move_to(Move move)
{
    return (move >> 6) & 63;
}

static inline MoveKind move_kind(Move move)
{
    return move >> 12;
}

static inline bool move_is_promotion(Move move)
{
    return move_kind(move) >= PROMOTION;
}

static inline bool move_is_castling(Move move)
{
    return move_kind(move) == CASTLING;
}

static inline bool move_is_en_passant(Move move)
{
    return move_kind(move) == EN_PASSANT;
}

/* The role that a pawn promotes to. Only for promotions. */
static inline Role move_promotion(Move move)
{
    return (move_kind(move) & 3) + KNIGHT;
}

#endif
