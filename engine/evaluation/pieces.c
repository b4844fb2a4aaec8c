#include "engine/evaluation/pieces.h"

#include "engine/evaluation/clamp.h"

/* The fourth to the sixth rank. */
static const Bitboard outer_ranks[SIDE_COUNT] = {UINT64_C(0x0000FFFFFF000000), UINT64_C(0x000000FFFFFF0000)};

/* A piece reaches the squares that it attacks, but for those of own pawns and of the king, and for those on
 * which a lesser enemy man could take it. */
FOR_A_SIDE Pair score_activity(const Survey *v, Role role, Bitboard reach)
{
    int squares = count_squares(reach);
    int class = role == QUEEN ? squares / 2 : squares;
    return v->w->activity[role - KNIGHT][at_most(class, ACTIVITY_CLASSES - 1)];
}

/* How firmly a knight or bishop stands in front of its own third rank: guarded by a pawn, out of the reach of theirs. */
FOR_A_SIDE Pair score_footing(const Survey *v, Side side, Role role, Square square)
{
    if (!(outer_ranks[side] & bit(square)))
        return 0;
    bool guarded = v->up_to[side][PAWN] >> square & 1;
    bool driven = v->pawns->attack_span[opposite(side)] >> square & 1;
    return v->w->footing[role - KNIGHT][2 * guarded + !driven];
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
    for (; men; ++*reach) {
        Square square = take_first(&men);
        score += w->placement[role][fold_square(side, square)] + score_activity(v, role, **reach & good);
        if (role == KNIGHT || role == BISHOP)
            score += score_footing(v, side, role, square);
        if (role == ROOK || role == QUEEN)
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
