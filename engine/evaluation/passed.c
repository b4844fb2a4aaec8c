#include "engine/evaluation/passed.h"

#include "engine/evaluation/clamp.h"

/* Who holds the way of a passed pawn. */
FOR_A_SIDE int holder_of_way(const Survey *v, Side side, Bitboard stop, Bitboard way)
{
    Side them = opposite(side);
    Bitboard enemies = v->p->by_side[them], attacked = attacked_by(v, them), guarded = attacked_by(v, side);
    if (stop & v->occupied)
        return stop & enemies ? WAY_BLOCKED : WAY_OWN_MAN;
    if (stop & attacked)
        return stop & guarded ? WAY_CONTESTED : WAY_LOST;
    if (way & (attacked | enemies))
        return stop & guarded ? WAY_STEP_GUARDED : WAY_STEP;
    return stop & guarded ? WAY_OWN : WAY_FREE;
}

/* Nobody but the king could stop the pawn, and it comes too late: the rule of the square. */
FOR_A_SIDE bool cannot_be_stopped(const Survey *v, Side side, Rank rank, Bitboard way)
{
    Side them = opposite(side);
    Square king = position_king(v->p, them), goal = side == WHITE ? last_square(way) : first_square(way);
    if (v->p->by_side[them] & ~(position_men(v->p, them, PAWN) | bit(king)) || v->p->by_side[side] & way)
        return false;
    int steps = RANK_8 - rank - (rank == RANK_2);
    return king_distance(king, goal) - (position_turn(v->p) != side) > steps;
}

FOR_A_SIDE Pair score_passed(const Survey *v, Side side)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Square own_king = position_king(v->p, side), enemy_king = position_king(v->p, them);
    Pair score = 0;
    for (Bitboard pawns = v->pawns->passed & v->p->by_side[side]; pawns;) {
        Square pawn = take_first(&pawns), stop = pawn + forward_step(side);
        Rank rank = relative_rank(side, pawn);
        int row = rank - RANK_2;
        Bitboard way = file_ahead(side, pawn);
        score += w->passed[holder_of_way(v, side, bit(stop), way)][row];
        score += w->passed_own_king[row] * king_distance(own_king, stop) +
                 w->passed_enemy_king[row] * king_distance(enemy_king, stop);
        Bitboard rooks = file_ahead(them, pawn) & v->p->by_role[ROOK] & rook_attacks(pawn, v->occupied);
        if (rooks)
            score += w->passed_rook[(rooks & v->p->by_side[side]) == 0];
        if (cannot_be_stopped(v, side, rank, way))
            score += w->passed_unstoppable;
    }
    return score;
}

Pair score_passed_pawns(const Survey *v)
{
    return score_passed(v, WHITE) - score_passed(v, BLACK);
}
