#include "engine/evaluation/passed_pawns.h"

FOR_A_SIDE Pair score_passed(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Square own_king = position_king(v->p, side), enemy_king = position_king(v->p, them);
    bool pieceless = v->p->by_side[them] == (position_men(v->p, them, PAWN) | bit(enemy_king));
    Pair score = 0;
    for (Bitboard pawns = v->pawns->passed & v->p->by_side[side]; pawns;) {
        Square pawn = take_first(&pawns);
        Rank rank = relative_rank(side, pawn);
        Square stop = pawn + forward_step(side);
        Bitboard path = file_ahead(side, pawn), behind = file_ahead(them, pawn);
        score += w->passed[rank];
        score += w->passed_own_king[rank] * king_distance(own_king, stop);
        score += w->passed_enemy_king[rank] * king_distance(enemy_king, stop);
        if (!(v->occupied & bit(stop)))
            score += w->passed_free_stop[rank];
        if (v->attacked[side] & bit(stop))
            score += w->passed_guarded[rank];
        if (!((v->attacked[them] | v->p->by_side[them]) & path))
            score += w->passed_safe_path[rank];
        Bitboard rooks_behind = behind & v->p->by_role[ROOK] & rook_attacks(pawn, v->occupied);
        if (rooks_behind & v->p->by_side[side])
            score += w->passed_rook_behind;
        else if (rooks_behind)
            score += w->passed_enemy_rook_behind;
        if (pieceless && !(v->p->by_side[side] & path)) {
            /* The rule of the square. */
            int steps = 7 - rank - (rank == RANK_2);
            Square goal = side == WHITE ? last_square(path) : first_square(path);
            if (king_distance(enemy_king, goal) - (position_turn(v->p) != side) > steps)
                score += w->passed_unstoppable;
        }
    }
    return score;
}

Pair score_passed_pawns(const Survey *v)
{
    return score_passed(v, WHITE) - score_passed(v, BLACK);
}
