#include "engine/search/exchange.h"

#include "engine/search/parameters.h"

const int exchange_values[1 + ROLE_COUNT] = {
    [1 + PAWN] = EXCHANGE_PAWN, [1 + KNIGHT] = EXCHANGE_KNIGHT, [1 + BISHOP] = EXCHANGE_BISHOP,
    [1 + ROOK] = EXCHANGE_ROOK, [1 + QUEEN] = EXCHANGE_QUEEN,   [1 + KING] = EXCHANGE_KING,
};

/* The least valuable of the men in a set that is not empty. */
static Role least_valuable(const Position *p, Bitboard men)
{
    for (Role role = PAWN; role < KING; role++)
        if (p->by_role[role] & men)
            return role;
    return KING;
}

/* The swap is played out as a bargain: `balance` is what the side that has just taken would have if the other
 * side stopped now, less the threshold; a side takes only while that improves its lot. */
bool exchange_at_least(const Position *p, Move move, int threshold)
{
    Square from = move_from(move), to = move_to(move);
    if (move_is_castling(move))
        return threshold <= 0;
    Role arriving = position_role(p, from);
    int balance = exchange_value(position_captured(p, move)) - threshold;
    if (move_is_promotion(move)) {
        arriving = move_promotion(move);
        balance += exchange_value(arriving) - exchange_value(PAWN);
    }
    if (balance < 0)
        return false;
    balance = exchange_value(arriving) - balance;
    if (balance <= 0)
        return true;

    Side side = position_turn(p);
    Bitboard occupied = (position_occupied(p) ^ bit(from)) | bit(to);
    if (move_is_en_passant(move))
        occupied ^= bit(to - forward_step(side));
    Bitboard slanted = p->by_role[BISHOP] | p->by_role[QUEEN];
    Bitboard straight = p->by_role[ROOK] | p->by_role[QUEEN];
    Bitboard attackers = position_attackers(p, to, occupied);
    bool mover_wins = true;
    for (;;) {
        side = opposite(side);
        attackers &= occupied;
        Bitboard own = attackers & p->by_side[side];
        if (!own)
            break;
        Role role = least_valuable(p, own);
        mover_wins = !mover_wins;
        if (role == KING) {
            /* The king may take only what nobody protects any more. */
            if (attackers & p->by_side[opposite(side)])
                mover_wins = !mover_wins;
            break;
        }
        balance = exchange_value(role) - balance;
        if (balance < mover_wins)
            break;
        occupied ^= bit(first_square(p->by_role[role] & own));
        if (role == PAWN || role == BISHOP || role == QUEEN)
            attackers |= bishop_attacks(to, occupied) & slanted;
        if (role == ROOK || role == QUEEN)
            attackers |= rook_attacks(to, occupied) & straight;
    }
    return mover_wins;
}
