/* A legal chess position, and playing moves on it.
 *
 * A Position is a plain value: copy it to keep it, play a move on the copy to go on. It comes from
 * fen_parse() (fen.h), which is the only place that can fail, or from another position by position_play(). */
#ifndef PAWNVANE_POSITION_H
#define PAWNVANE_POSITION_H

#include "engine/rules/attacks.h"
#include "engine/rules/move.h"

typedef struct Position {
    Bitboard by_role[ROLE_COUNT];
    Bitboard by_side[SIDE_COUNT];
    /* The rooks that may still castle. */
    Bitboard castling_rooks;
    /* Equal for positions with the same men, side to move, castling rights and possible en passant capture:
     * the "same position" of the FIDE Laws of Chess, article 9.2. */
    uint64_t key;
    /* Equal for positions with the same pawns. */
    uint64_t pawn_key;
    /* Equal for positions in which the side has the same pieces, king included, on the same squares. */
    uint64_t piece_key[SIDE_COUNT];
    int8_t role_on[SQUARE_COUNT]; /* Role, NO_ROLE where empty */
    int8_t en_passant;            /* square behind a pawn that has just made a double step, or NO_SQUARE */
    bool en_passant_possible;     /* and some pawn can legally take it */
    bool chess960;                /* castling is read and written as in Chess960 */
    uint8_t side_to_move;         /* Side */
    uint16_t halfmoves;           /* since the last capture or pawn move */
    uint16_t fullmove;            /* 1 at the start, up by one after each move of Black */
} Position;

static inline Side position_turn(const Position *p)
{
    return p->side_to_move;
}

static inline Bitboard position_occupied(const Position *p)
{
    return p->by_side[WHITE] | p->by_side[BLACK];
}

static inline Bitboard position_men(const Position *p, Side side, Role role)
{
    return p->by_role[role] & p->by_side[side];
}

static inline Square position_king(const Position *p, Side side)
{
    return first_square(position_men(p, side, KING));
}

static inline Role position_role(const Position *p, Square square)
{
    return p->role_on[square];
}

/* The role that a move captures, NO_ROLE for a quiet move. */
static inline Role position_captured(const Position *p, Move move)
{
    if (move_is_en_passant(move))
        return PAWN;
    if (move_is_castling(move))
        return NO_ROLE;
    return position_role(p, move_to(move));
}

/* Where the king arrives when it castles with the rook on that square. */
static inline Square castling_king_goal(Square king, Square rook)
{
    return square_at(rook > king ? FILE_G : FILE_C, rank_of(king));
}

static inline Square castling_rook_goal(Square king, Square rook)
{
    return square_at(rook > king ? FILE_F : FILE_D, rank_of(king));
}

/* All men of both sides that attack a square, given what is occupied (sliders look through the rest). */
static inline Bitboard position_attackers(const Position *p, Square square, Bitboard occupied)
{
    return (pawn_attacks_from(BLACK, square) & position_men(p, WHITE, PAWN)) |
           (pawn_attacks_from(WHITE, square) & position_men(p, BLACK, PAWN)) |
           (knight_attacks(square) & p->by_role[KNIGHT]) | (king_attacks(square) & p->by_role[KING]) |
           (bishop_attacks(square, occupied) & (p->by_role[BISHOP] | p->by_role[QUEEN])) |
           (rook_attacks(square, occupied) & (p->by_role[ROOK] | p->by_role[QUEEN]));
}

/* The men that give check to the side to move. */
static inline Bitboard position_checkers(const Position *p)
{
    Side us = position_turn(p);
    return position_attackers(p, position_king(p, us), position_occupied(p)) & p->by_side[opposite(us)];
}

/* Which moves of the side to move give check. */
typedef struct CheckView {
    Bitboard from[ROLE_COUNT]; /* squares from which such a man gives check */
    Bitboard hiders;           /* own men that hide the enemy king from an own slider */
    Square king;               /* of the enemy */
} CheckView;

void position_view_checks(const Position *p, CheckView *view);

/* Whether a legal move gives check. */
bool position_gives_check(const Position *p, const CheckView *view, Move move);

/* Plays a legal move. Anything else is undefined (debug builds assert what they can). */
void position_play(Position *p, Move move);

/* Lets the other side move. Not when in check. */
void position_pass(Position *p);

/* An empty board, White to move; not yet a legal position. */
void position_clear(Position *p);

/* Puts a man on an empty square. */
void position_put(Position *p, Side side, Role role, Square square);

/* Sets the keys and en_passant_possible from the rest; after this the incremental state equals the state
 * computed from scratch. */
void position_refresh(Position *p);

/* Whether the keys and sets agree with a computation from scratch; for assertions and tests. */
bool position_consistent(const Position *p);

/* Whether neither side can ever give mate with what is on the board, whatever is played: king against king,
 * king and one minor piece against king, or any number of bishops that all stand on squares of one colour
 * (FIDE Laws of Chess, article 5.2.2, in the part that can be read off the material). */
bool position_material_is_dead(const Position *p);

#endif
