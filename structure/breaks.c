#include "structure/breaks.h"

/* A pawn on a lever square always attacks the lever's target, so the square decides. */
static ps_break_kind kind_of_break(const ps_analysis *analysis, Side side, Square goal)
{
    ps_break_kind kind = PS_OTHER;
    for (int i = 0; i < analysis->chain_count; i++) {
        const ps_chain_side *view = &analysis->chains[i].side[side];
        if (view->base_lever.square == goal)
            return PS_BASE;
        if (view->head_lever.square == goal)
            kind = PS_HEAD;
    }
    return kind;
}

static void add_break(ps_break_list *out, const ps_analysis *analysis, const ps_board *board, Side side,
                      Square from, Square to)
{
    if (out->count == PS_MAX_BREAKS)
        return;
    Bitboard targets = pawn_attacks(side, bit(to)) & sensible_pawns(board->pawns, opposite(side));
    Support support = count_support(board, side, to, from);
    ps_break *item = &out->items[out->count++];
    *item = (ps_break){
        .from = from,
        .to = to,
        .kind = kind_of_break(analysis, side, to),
        .supporters = support.supporters,
        .attackers = support.attackers,
    };
    while (targets != 0)
        item->targets[item->target_count++] = take_first(&targets);
}

void ps_find_breaks(ps_break_list *out, const ps_analysis *analysis, const ps_board *board, Side side)
{
    Side enemy = opposite(side);
    Bitboard own = sensible_pawns(board->pawns, side), targets = sensible_pawns(board->pawns, enemy);
    Bitboard empty = ~(own | targets | board_pieces(board));
    /* From these squares a pawn attacks a target. None is on the last rank, as no target is beyond it. */
    Bitboard goals = pawn_attacks(enemy, targets);
    Bitboard ahead = push_forward(side, own) & empty;
    Bitboard one = ahead & goals;
    Bitboard two = push_forward(side, ahead & rank_mask(side == WHITE ? RANK_3 : RANK_6)) & empty & goals;
    Bitboard from_one = push_forward(enemy, one);
    Bitboard from_two = push_forward(enemy, push_forward(enemy, two));
    int step = forward_step(side);

    out->count = 0;
    for (Bitboard origins = from_one | from_two; origins != 0;) {
        Square from = take_first(&origins);
        if ((from_one & bit(from)) != 0)
            add_break(out, analysis, board, side, from, from + step);
        if ((from_two & bit(from)) != 0)
            add_break(out, analysis, board, side, from, from + 2 * step);
    }
}
