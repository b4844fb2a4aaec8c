#include "engine/evaluation/king_danger.h"

#include "engine/evaluation/clamp.h"

/* Danger grows with the attackers, with squares round the king that only it defends, with checks that cost
 * the attacker nothing, and with what else EvalUnits names. */
FOR_A_SIDE int danger_round_king(const Survey *v, Side side, Square king)
{
    const EvalUnits *u = &v->w->units;
    Side them = opposite(side);
    Bitboard weak = v->attacked[them] & ~v->attacked_twice[side] &
                    (~v->attacked[side] | v->attacks[side][KING] | v->attacks[side][QUEEN]);
    Bitboard safe = ~v->p->by_side[them] & (~v->attacked[side] | (weak & v->attacked_twice[them]));
    Bitboard straight = rook_attacks(king, v->occupied), slanted = bishop_attacks(king, v->occupied);
    const Bitboard checks[ROLE_COUNT] = {[KNIGHT] = knight_attacks(king) & v->attacks[them][KNIGHT],
                                         [BISHOP] = slanted & v->attacks[them][BISHOP],
                                         [ROOK] = straight & v->attacks[them][ROOK],
                                         [QUEEN] = (straight | slanted) & v->attacks[them][QUEEN]};
    int units = u->weak_square * count_squares(weak & v->king_zone[side]);
    for (Role role = KNIGHT; role <= QUEEN; role++)
        if (checks[role] & safe)
            units += u->check[role];
    Bitboard camp = king_flank(king) & (side == WHITE ? ~UINT64_C(0) >> 24 : ~UINT64_C(0) << 24);
    units += u->flank_attack *
             (count_squares(camp & v->attacked[them]) + count_squares(camp & v->attacked_twice[them]));
    units += u->pinned * count_squares(v->pinned[side]);
    if (v->king_zone[side] & position_men(v->p, side, KNIGHT))
        units += u->knight_near;
    if (!position_men(v->p, them, QUEEN))
        units += u->no_queen;
    return units;
}

FOR_A_SIDE Pair score_king(const Survey *v, Side side)
{
    Square king = position_king(v->p, side);
    int units = v->danger[side] + danger_round_king(v, side, king);
    if (v->attackers[side] < DANGER_ATTACKERS)
        units /= DANGER_DIVISOR;
    int class = clamp(units / DANGER_UNITS, 0, DANGER_CLASSES - 1);
    return v->w->square[KING][fold_square(side, king)] + v->w->danger[class];
}

Pair score_kings(const Survey *v)
{
    return score_king(v, WHITE) - score_king(v, BLACK);
}
