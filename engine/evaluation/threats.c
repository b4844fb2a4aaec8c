#include "engine/evaluation/threats.h"

FOR_A_SIDE Pair score_threats_of(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    const Position *p = v->p;
    Bitboard knights_bishops = position_men(p, them, KNIGHT) | position_men(p, them, BISHOP);
    Bitboard rooks = position_men(p, them, ROOK), queens = position_men(p, them, QUEEN);
    Bitboard pieces = knights_bishops | rooks | queens;
    Bitboard by_pawn = v->attacks[side][PAWN];
    Bitboard by_minor = v->attacks[side][KNIGHT] | v->attacks[side][BISHOP];
    Pair score = 0;

    score += w->pawn_attacks_minor * count_squares(by_pawn & knights_bishops);
    score += w->pawn_attacks_rook * count_squares(by_pawn & rooks);
    score += w->pawn_attacks_queen * count_squares(by_pawn & queens);
    score += w->minor_attacks_minor * count_squares(by_minor & knights_bishops & ~v->attacks[them][PAWN]);
    score += w->minor_attacks_rook * count_squares(by_minor & rooks);
    score += w->minor_attacks_queen * count_squares(by_minor & queens);
    score += w->rook_attacks_queen * count_squares(v->attacks[side][ROOK] & queens);
    Bitboard loose = (pieces | position_men(p, them, PAWN)) & v->attacked[side] &
                     (~v->attacked[them] | (v->attacked_twice[side] & ~v->attacked_twice[them] & pieces));
    score += w->hanging * count_squares(loose);
    Bitboard strong = v->attacks[them][PAWN] | (v->attacked_twice[them] & ~v->attacked_twice[side]);
    Bitboard weak = p->by_side[them] & ~strong;
    score += w->rook_attacks_minor * count_squares(v->attacks[side][ROOK] & weak & knights_bishops);
    if (v->attacks[side][KING] & weak)
        score += w->king_attacks_weak;
    if (queens && !more_than_one(queens)) {
        Bitboard forks = knight_attacks(first_square(queens)) & ~(p->by_side[side] | strong);
        score += w->knight_on_queen * count_squares(v->attacks[side][KNIGHT] & forks);
    }

    Bitboard third = side == WHITE ? RANK_1_BB << 16 : RANK_8_BB >> 16;
    Bitboard pushes = push_forward(side, position_men(p, side, PAWN)) & ~v->occupied;
    pushes |= push_forward(side, pushes & third) & ~v->occupied;
    pushes &= ~v->attacks[them][PAWN] & (v->attacked[side] | ~v->attacked[them]);
    score += w->pawn_push_threat * count_squares(pawn_attacks(side, pushes) & pieces);
    return score;
}

Pair score_threats(const Survey *v)
{
    return score_threats_of(v, WHITE) - score_threats_of(v, BLACK);
}
