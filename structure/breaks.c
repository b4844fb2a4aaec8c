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

/* Adds a push if it is a break; one to the last rank never is, as there is nothing beyond it to attack. */
static void add_break(ps_break_list *out, const ps_analysis *analysis, const ps_board *board, Side side,
                      Square from, Square to)
{
    Bitboard targets = pawn_attacks(side, bit(to)) & sensible_pawns(board->pawns, opposite(side));
    if (targets == 0 || out->count == PS_MAX_BREAKS)
        return;
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
    Bitboard own = sensible_pawns(board->pawns, side);
    Bitboard occupied = own | sensible_pawns(board->pawns, opposite(side)) | board_pieces(board);
    int step = forward_step(side);

    out->count = 0;
    while (own != 0) {
        Square from = take_first(&own);
        Square one = from + step;
        if ((occupied & bit(one)) != 0)
            continue;
        add_break(out, analysis, board, side, from, one);
        Square two = one + step;
        if (relative_rank(side, from) == RANK_2 && (occupied & bit(two)) == 0)
            add_break(out, analysis, board, side, from, two);
    }
}
