#include "engine/evaluation/contest.h"

/* The least man of that side that attacks a square which is attacked. */
FOR_A_SIDE Role cheapest_attacker(const Survey *v, Side side, Square square)
{
    const Bitboard *up_to = v->up_to[side];
    int spared = 0;
    for (Role role = PAWN; role < KING; role++)
        spared += !(up_to[role] >> square & 1);
    return spared;
}

/* What it is worth to `side` that its men are attacked. */
FOR_A_SIDE Pair score_men(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Bitboard by_pawn = v->up_to[side][PAWN], outnumbered = v->twice[them] & ~v->twice[side];
    Bitboard loose = outnumbered | ~attacked_by(v, side);
    Pair score = 0;
    for (Bitboard men = v->p->by_side[side] & ~v->p->by_role[KING] & attacked_by(v, them); men;) {
        Square square = take_first(&men);
        int guard = by_pawn >> square & 1 ? HELD_BY_PAWN : loose >> square & 1 ? LOOSE : HELD_BY_PIECES;
        score += w->contest[guard][cheapest_attacker(v, them, square)][position_role(v->p, square)];
    }
    /* Pieces that a pawn could attack by a step nobody punishes at once. */
    Bitboard third = side == WHITE ? RANK_8_BB >> 16 : RANK_1_BB << 16;
    Bitboard steps = push_forward(them, position_men(v->p, them, PAWN)) & ~v->occupied;
    steps |= push_forward(them, steps & third) & ~v->occupied;
    steps &= ~v->up_to[side][PAWN] & (attacked_by(v, them) | ~attacked_by(v, side));
    Bitboard hit =
        pawn_attacks(them, steps) & v->p->by_side[side] & ~(v->p->by_role[PAWN] | v->p->by_role[KING]);
    return score + w->pawn_step * count_squares(hit);
}

Pair score_contest(const Survey *v)
{
    return score_men(v, WHITE) - score_men(v, BLACK);
}
