#include "structure/plan.h"

Bitboard ps_wing_area(Side side, unsigned wing, Square head)
{
    Bitboard ranks = 0;
    for (int rank = RANK_2; rank <= relative_rank(side, head); rank++)
        ranks |= rank_mask(side == WHITE ? rank : RANK_8 - rank);
    return squares_of_files(wing) & ranks;
}

/* How good a claim a base lever gives a chain: a live one first. */
static int claim_of(const ps_lever *lever)
{
    return ps_lever_is_live(lever) ? 2 : ps_lever_is_done(lever) ? 1 : 0;
}

/* Whether a chain comes before another one that stands earlier in the list. */
static bool comes_before(const ps_chain *chain, const ps_chain *other, Side side)
{
    const ps_lever *lever = &chain->side[side].base_lever;
    const ps_lever *others = &other->side[side].base_lever;
    if (chain->grade != other->grade)
        return chain->grade > other->grade;
    if (claim_of(lever) != claim_of(others))
        return claim_of(lever) > claim_of(others);
    return lever->tempi < others->tempi; /* never so unless both are live */
}

static ps_region region_of_file(File file)
{
    static const ps_region regions[FILE_COUNT] = {
        [FILE_A] = PS_QUEENSIDE, [FILE_B] = PS_QUEENSIDE, [FILE_C] = PS_QUEENSIDE, [FILE_D] = PS_CENTRE,
        [FILE_E] = PS_CENTRE,    [FILE_F] = PS_KINGSIDE,  [FILE_G] = PS_KINGSIDE,  [FILE_H] = PS_KINGSIDE,
    };
    return regions[file];
}

static ps_verdict judge(const ps_chain *chain, const ps_lever *base_lever)
{
    if (chain->grade == PS_DOUBTFUL)
        return PS_WEAK;
    if (ps_lever_is_live(base_lever))
        return PS_APPLIES;
    return ps_lever_is_done(base_lever) ? PS_FULFILLED : PS_MISLEADING;
}

ps_plan ps_make_plan(const ps_analysis *analysis, const ps_board *board, Side side)
{
    const ps_chain *principal = NULL;
    for (int i = 0; i < analysis->chain_count; i++) {
        const ps_chain *chain = &analysis->chains[i];
        if (chain->grade != PS_VOID && (principal == NULL || comes_before(chain, principal, side)))
            principal = chain;
    }
    if (principal == NULL)
        return (ps_plan){.verdict = PS_NONE, .region = PS_NO_REGION};

    const ps_chain_side *view = &principal->side[side];
    bool on_board = view->toward != PS_NO_FILE;
    unsigned wing = on_board ? wing_files(view->toward, view->direction) : 0;
    return (ps_plan){
        .verdict = judge(principal, &view->base_lever),
        .chain = (int)(principal - analysis->chains),
        .region = region_of_file(on_board ? view->toward : (int)file_of(view->head)),
        .room = count_room(side, ps_wing_area(side, wing, view->head),
                           sensible_pawns(board->pawns, opposite(side))),
        .pieces = count_wing_pieces(board, side, wing),
    };
}

const ps_chain_side *ps_plan_chain(const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    return plan->verdict == PS_NONE ? NULL : &analysis->chains[plan->chain].side[side];
}

const ps_lever *ps_plan_lever(const ps_analysis *analysis, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(analysis, side);
    return chain == NULL ? NULL : &chain->base_lever;
}

ps_side ps_find_first_to_break(const ps_analysis *analysis, ps_side to_move)
{
    const ps_lever *white = ps_plan_lever(analysis, PS_WHITE);
    const ps_lever *black = ps_plan_lever(analysis, PS_BLACK);
    bool white_can = white != NULL && ps_lever_is_live(white);
    bool black_can = black != NULL && ps_lever_is_live(black);
    if (white_can && black_can && white->tempi == black->tempi)
        return to_move;
    if (white_can && (!black_can || white->tempi < black->tempi))
        return PS_WHITE;
    return black_can ? PS_BLACK : PS_NOBODY;
}
