#include "engine/position.h"

#include "engine/zobrist.h"

#include <assert.h>
#include <string.h>

static inline void lift(Position *p, Side side, Role role, Square square)
{
    p->by_role[role] ^= bit(square);
    p->by_side[side] ^= bit(square);
    p->role_on[square] = NO_ROLE;
    p->key ^= zobrist_man[side][role][square];
    if (role == PAWN)
        p->pawn_key ^= zobrist_man[side][PAWN][square];
}

static inline void drop(Position *p, Side side, Role role, Square square)
{
    p->by_role[role] ^= bit(square);
    p->by_side[side] ^= bit(square);
    p->role_on[square] = (uint8_t)role;
    p->key ^= zobrist_man[side][role][square];
    if (role == PAWN)
        p->pawn_key ^= zobrist_man[side][PAWN][square];
}

static uint64_t castling_key(Bitboard rooks)
{
    uint64_t key = 0;
    while (rooks)
        key ^= zobrist_castling[take_first(&rooks)];
    return key;
}

static inline Bitboard home_rank(Side side)
{
    return side == WHITE ? RANK_1_BB : RANK_8_BB;
}

static inline void lose_castling(Position *p, Bitboard rooks)
{
    Bitboard lost = p->castling_rooks & rooks;
    if (lost) {
        p->castling_rooks ^= lost;
        p->key ^= castling_key(lost);
    }
}

/* Whether the side to move can take en passant on that square without leaving its king in check: the capture
 * clears two squares of one rank at once, so the pin test must see the board after it. */
static bool can_take_en_passant(const Position *p, Square goal)
{
    Side us = position_turn(p), them = opposite(us);
    Square king = position_king(p, us);
    Square victim = (Square)((int)goal - forward_step(us));
    Bitboard takers = pawn_attacks_from(them, goal) & position_men(p, us, PAWN);
    while (takers) {
        Square from = take_first(&takers);
        Bitboard occupied = (position_occupied(p) ^ bit(from) ^ bit(victim)) | bit(goal);
        if (!(position_attackers(p, king, occupied) & p->by_side[them] & ~bit(victim)))
            return true;
    }
    return false;
}

static inline void forget_en_passant(Position *p)
{
    if (p->en_passant_possible)
        p->key ^= zobrist_en_passant[file_of((Square)p->en_passant)];
    p->en_passant = NO_SQUARE;
    p->en_passant_possible = false;
}

static inline void allow_en_passant(Position *p, Square goal)
{
    p->en_passant = (int8_t)goal;
    p->en_passant_possible = can_take_en_passant(p, goal);
    if (p->en_passant_possible)
        p->key ^= zobrist_en_passant[file_of(goal)];
}

static void castle(Position *p, Square king, Square rook)
{
    Side us = position_turn(p);
    lift(p, us, KING, king);
    lift(p, us, ROOK, rook);
    drop(p, us, KING, castling_king_goal(king, rook));
    drop(p, us, ROOK, castling_rook_goal(king, rook));
    lose_castling(p, home_rank(us));
}

void position_play(Position *p, Move move)
{
    Side us = position_turn(p), them = opposite(us);
    Square from = move_from(move), to = move_to(move);
    Role role = position_role(p, from);

    assert(role != NO_ROLE && (p->by_side[us] & bit(from)));
    forget_en_passant(p);
    p->halfmoves++;
    p->fullmove = (uint16_t)(p->fullmove + (us == BLACK));
    p->side_to_move = (uint8_t)them;
    p->key ^= zobrist_black_to_move;

    if (move_is_castling(move)) {
        p->side_to_move = (uint8_t)us;
        castle(p, from, to);
        p->side_to_move = (uint8_t)them;
        return;
    }
    Square victim = move_is_en_passant(move) ? (Square)((int)to - forward_step(us)) : to;
    Role captured = position_role(p, victim);
    if (captured != NO_ROLE) {
        lift(p, them, captured, victim);
        p->halfmoves = 0;
    }
    lift(p, us, role, from);
    drop(p, us, move_is_promotion(move) ? move_promotion(move) : role, to);
    if (p->castling_rooks) {
        Bitboard touched = bit(from) | bit(to);
        lose_castling(p, role == KING ? touched | home_rank(us) : touched);
    }
    if (role == PAWN) {
        p->halfmoves = 0;
        if (((int)from ^ (int)to) == 16)
            allow_en_passant(p, (Square)(((int)from + (int)to) / 2));
    }
    assert(position_consistent(p));
}

void position_pass(Position *p)
{
    forget_en_passant(p);
    p->halfmoves++;
    p->side_to_move ^= 1;
    p->key ^= zobrist_black_to_move;
}

void position_clear(Position *p)
{
    memset(p, 0, sizeof *p);
    memset(p->role_on, NO_ROLE, sizeof p->role_on);
    p->en_passant = NO_SQUARE;
    p->fullmove = 1;
}

void position_put(Position *p, Side side, Role role, Square square)
{
    drop(p, side, role, square);
}

static void compute_keys(const Position *p, uint64_t *key, uint64_t *pawn_key)
{
    *key = castling_key(p->castling_rooks);
    *pawn_key = 0;
    for (Square s = A1; s <= H8; s++) {
        Role role = position_role(p, s);
        if (role == NO_ROLE)
            continue;
        uint64_t man = zobrist_man[(p->by_side[BLACK] & bit(s)) ? BLACK : WHITE][role][s];
        *key ^= man;
        if (role == PAWN)
            *pawn_key ^= man;
    }
    if (position_turn(p) == BLACK)
        *key ^= zobrist_black_to_move;
    if (p->en_passant_possible)
        *key ^= zobrist_en_passant[file_of((Square)p->en_passant)];
}

void position_refresh(Position *p)
{
    p->en_passant_possible = p->en_passant != NO_SQUARE && can_take_en_passant(p, (Square)p->en_passant);
    compute_keys(p, &p->key, &p->pawn_key);
}

bool position_consistent(const Position *p)
{
    uint64_t key, pawn_key;
    Bitboard all = 0;
    for (int role = PAWN; role <= KING; role++) {
        if (all & p->by_role[role])
            return false;
        all |= p->by_role[role];
        for (Bitboard men = p->by_role[role]; men;)
            if (p->role_on[take_first(&men)] != role)
                return false;
    }
    compute_keys(p, &key, &pawn_key);
    return all == position_occupied(p) && !(p->by_side[WHITE] & p->by_side[BLACK]) && key == p->key &&
           pawn_key == p->pawn_key;
}

bool position_material_is_dead(const Position *p)
{
    static const Bitboard light_squares = UINT64_C(0x55AA55AA55AA55AA);
    if (p->by_role[PAWN] | p->by_role[ROOK] | p->by_role[QUEEN])
        return false;
    if (!more_than_one(p->by_role[KNIGHT] | p->by_role[BISHOP]))
        return true;
    Bitboard bishops = p->by_role[BISHOP];
    return !p->by_role[KNIGHT] && (!(bishops & light_squares) || !(bishops & ~light_squares));
}
