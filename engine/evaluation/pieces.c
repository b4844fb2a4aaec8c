#include "engine/evaluation/pieces.h"

#include "engine/evaluation/clamp.h"

/* A piece reaches the squares that it attacks, but for those of own pawns and of the king, and for those on
 * which a lesser enemy man could take it. */
FOR_A_SIDE Pair score_activity(const Survey *v, Role role, Bitboard reach)
{
    int squares = count_squares(reach);
    int class = role == QUEEN ? squares / 2 : squares;
    return v->w->activity[role - KNIGHT][at_most(class, ACTIVITY_CLASSES - 1)];
}

FOR_A_SIDE Pair score_role(const Survey *v, Side side, Role role, const Bitboard **reach)
{
    const EvalWeights *w = v->w;
    Side them = opposite(side);
    Bitboard pawns = position_men(v->p, side, PAWN), men = position_men(v->p, side, role);
    Bitboard good = ~(guarded_by_lesser(v, them, role) | pawns | position_men(v->p, side, KING));
    int count = v->count[side][role];
    Pair each = w->material[role] + w->with_pawns[role - KNIGHT] * count_squares(pawns) +
                w->with_rams[role - KNIGHT] * (count_squares(v->pawns->rams) / 2);
    Pair score = each * count;
    if (count > 1)
        score += w->second[role - KNIGHT];
    Square own_king = position_king(v->p, side), enemy_king = position_king(v->p, them);
    for (; men; ++*reach) {
        Square square = take_first(&men);
        score += w->placement[role][fold_square(side, square)] + score_activity(v, role, **reach & good) +
                 w->from_own_king[role - KNIGHT][king_distance(square, own_king) - 1] +
                 w->from_enemy_king[role - KNIGHT][king_distance(square, enemy_king) - 1];
        if (role == ROOK)
            score += score_file(v, side, role, square);
        if (role == BISHOP) {
            Bitboard colour = colour_of(bit(square));
            score += w->bishop_on_pawns * count_squares(colour & pawns) +
                     w->bishop_on_rams * count_squares(colour & pawns & v->pawns->rams);
        }
    }
    return score;
}

FOR_A_SIDE Pair score_pieces_of(const Survey *v, Side side)
{
    const Bitboard *reach = v->reach[side];
    return score_role(v, side, KNIGHT, &reach) + score_role(v, side, BISHOP, &reach) +
           score_role(v, side, ROOK, &reach) + score_role(v, side, QUEEN, &reach);
}

Pair score_pieces(const Survey *v)
{
    return score_pieces_of(v, WHITE) - score_pieces_of(v, BLACK);
}
