#include "engine/rules/position.h"

#include "engine/rules/geometry.h"
#include "engine/rules/zobrist.h"

#include <assert.h>
#include <string.h>

/* The key that a man is part of, besides the whole position's. */
static inline uint64_t *part_key(Position *p, Side side, Role role)
{
    return role == PAWN ? &p->pawn_key : &p->piece_key[side];
}

static inline void lift(Position *p, Side side, Role role, Square square)
{
    p->by_role[role] ^= bit(square);
    p->by_side[side] ^= bit(square);
    p->role_on[square] = NO_ROLE;
    p->key ^= zobrist_man[side][role][square];
    *part_key(p, side, role) ^= zobrist_man[side][role][square];
}

static inline void drop(Position *p, Side side, Role role, Square square)
{
    p->by_role[role] ^= bit(square);
    p->by_side[side] ^= bit(square);
    p->role_on[square] = (int8_t)role;
    p->key ^= zobrist_man[side][role][square];
    *part_key(p, side, role) ^= zobrist_man[side][role][square];
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
    Square victim = goal - forward_step(us);
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
        p->key ^= zobrist_en_passant[file_of(p->en_passant)];
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
    Square victim = move_is_en_passant(move) ? to - forward_step(us) : to;
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
        if ((from ^ to) == 16)
            allow_en_passant(p, (from + to) / 2);
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

void position_view_checks(const Position *p, CheckView *view)
{
    Side us = position_turn(p), them = opposite(us);
    Bitboard occupied = position_occupied(p), own = p->by_side[us];
    Square king = position_king(p, them);
    Bitboard slanted = bishop_attacks(king, occupied), straight = rook_attacks(king, occupied);
    *view = (CheckView){.from = {[PAWN] = pawn_attacks_from(them, king),
                                 [KNIGHT] = knight_attacks(king),
                                 [BISHOP] = slanted,
                                 [ROOK] = straight,
                                 [QUEEN] = slanted | straight},
                        .king = king};
    /* Sliders that would see the king through one man. */
    Bitboard snipers = ((bishop_attacks(king, 0) & (p->by_role[BISHOP] | p->by_role[QUEEN])) |
                        (rook_attacks(king, 0) & (p->by_role[ROOK] | p->by_role[QUEEN]))) &
                       own;
    while (snipers) {
        Bitboard shield = between(king, take_first(&snipers)) & occupied;
        if (!more_than_one(shield))
            view->hiders |= shield & own;
    }
}

bool position_gives_check(const Position *p, const CheckView *view, Move move)
{
    Square from = move_from(move), to = move_to(move);
    if (move_is_castling(move) || move_is_en_passant(move) || move_is_promotion(move)) {
        Position after = *p;
        position_play(&after, move);
        return position_checkers(&after) != 0;
    }
    return (view->from[position_role(p, from)] & bit(to)) ||
           ((view->hiders & bit(from)) && !(line_through(view->king, from) & bit(to)));
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

typedef struct Keys {
    uint64_t whole, pawns, pieces[SIDE_COUNT];
} Keys;

static Keys compute_keys(const Position *p)
{
    Keys keys = {.whole = castling_key(p->castling_rooks)};
    for (Square s = A1; s <= H8; s++) {
        Role role = position_role(p, s);
        if (role == NO_ROLE)
            continue;
        Side side = p->by_side[BLACK] & bit(s) ? BLACK : WHITE;
        uint64_t man = zobrist_man[side][role][s];
        keys.whole ^= man;
        *(role == PAWN ? &keys.pawns : &keys.pieces[side]) ^= man;
    }
    if (position_turn(p) == BLACK)
        keys.whole ^= zobrist_black_to_move;
    if (p->en_passant_possible)
        keys.whole ^= zobrist_en_passant[file_of(p->en_passant)];
    return keys;
}

void position_refresh(Position *p)
{
    p->en_passant_possible = p->en_passant != NO_SQUARE && can_take_en_passant(p, p->en_passant);
    Keys keys = compute_keys(p);
    p->key = keys.whole;
    p->pawn_key = keys.pawns;
    memcpy(p->piece_key, keys.pieces, sizeof p->piece_key);
}

bool position_consistent(const Position *p)
{
    Bitboard all = 0;
    for (Role role = PAWN; role <= KING; role++) {
        if (all & p->by_role[role])
            return false;
        all |= p->by_role[role];
        for (Bitboard men = p->by_role[role]; men;)
            if (p->role_on[take_first(&men)] != role)
                return false;
    }
    Keys keys = compute_keys(p);
    return all == position_occupied(p) && !(p->by_side[WHITE] & p->by_side[BLACK]) && keys.whole == p->key &&
           keys.pawns == p->pawn_key && memcmp(keys.pieces, p->piece_key, sizeof keys.pieces) == 0;
}

bool position_material_is_dead(const Position *p)
{
    if (p->by_role[PAWN] | p->by_role[ROOK] | p->by_role[QUEEN])
        return false;
    if (!more_than_one(p->by_role[KNIGHT] | p->by_role[BISHOP]))
        return true;
    return !p->by_role[KNIGHT] && !on_both_colours(p->by_role[BISHOP]);
}
