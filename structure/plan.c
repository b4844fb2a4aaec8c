#include "structure/plan.h"

int ps_count_room(Side side, unsigned wing, Square head, Bitboard enemy_pawns)
{
    int upto = (int)relative_rank(side, head);
    Bitboard ranks = 0;
    for (int rank = RANK_2; rank <= upto; rank++)
        ranks |= rank_mask(side == WHITE ? rank : RANK_8 - rank);
    return count_squares(squares_of_files(wing) & ranks & ~pawn_attacks(opposite(side), enemy_pawns));
}

/* Whether a pair comes before another one that stands earlier in the list. */
static bool comes_before(const ps_pair *pair, const ps_pair *other, Side side)
{
    const ps_lever *lever = &pair->side[side].base_lever;
    const ps_lever *others = &other->side[side].base_lever;
    if (pair->grade != other->grade)
        return pair->grade > other->grade;
    if (ps_lever_is_available(lever) != ps_lever_is_available(others))
        return ps_lever_is_available(lever);
    return lever->tempi < others->tempi; /* never so if neither is available */
}

static ps_region region_of_file(int file)
{
    static const ps_region regions[FILE_COUNT] = {
        [FILE_A] = PS_QUEENSIDE, [FILE_B] = PS_QUEENSIDE, [FILE_C] = PS_QUEENSIDE, [FILE_D] = PS_CENTRE,
        [FILE_E] = PS_CENTRE,    [FILE_F] = PS_KINGSIDE,  [FILE_G] = PS_KINGSIDE,  [FILE_H] = PS_KINGSIDE,
    };
    return regions[file];
}

static ps_verdict judge(const ps_pair *pair, Side side)
{
    if (pair->grade == PS_DOUBTFUL)
        return PS_WEAK;
    return ps_lever_is_available(&pair->side[side].base_lever) ? PS_APPLIES : PS_MISLEADING;
}

ps_plan ps_make_plan(const ps_analysis *analysis, const ps_board *board, Side side)
{
    const ps_pair *principal = NULL;
    for (int i = 0; i < analysis->pair_count; i++) {
        const ps_pair *pair = &analysis->pairs[i];
        if (pair->grade != PS_VOID && (principal == NULL || comes_before(pair, principal, side)))
            principal = pair;
    }
    if (principal == NULL)
        return (ps_plan){.verdict = PS_NONE};

    const ps_pair_side *view = &principal->side[side];
    unsigned wing = wing_files(view->toward, view->direction);
    return (ps_plan){
        .verdict = judge(principal, side),
        .pair = (int)(principal - analysis->pairs),
        .region = region_of_file(view->toward),
        .room = ps_count_room(side, wing, (Square)view->head, sensible_pawns(board->pawns, opposite(side))),
        .pieces = count_wing_pieces(board, side, wing),
    };
}

int ps_find_first_to_break(const ps_analysis *analysis, ps_side to_move)
{
    const ps_lever *white = ps_plan_lever(analysis, PS_WHITE);
    const ps_lever *black = ps_plan_lever(analysis, PS_BLACK);
    bool white_can = white != NULL && ps_lever_is_available(white);
    bool black_can = black != NULL && ps_lever_is_available(black);
    if (white_can && black_can && white->tempi == black->tempi)
        return (int)to_move;
    if (white_can && (!black_can || white->tempi < black->tempi))
        return PS_WHITE;
    return black_can ? PS_BLACK : PS_NOBODY;
}

bool ps_lever_is_available(const ps_lever *lever)
{
    return lever->square != PS_NO_SQUARE && lever->tempi != PS_NO_COUNT;
}

const ps_lever *ps_plan_lever(const ps_analysis *analysis, ps_side side)
{
    const ps_plan *plan = &analysis->plan[side];
    return plan->verdict == PS_NONE ? NULL : &analysis->pairs[plan->pair].side[side].base_lever;
}
