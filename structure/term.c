#include "structure/term.h"

const ps_side_term no_side_term = {.square = PS_NO_SQUARE, .lever = PS_BASE, .tempi = PS_NO_COUNT};

static int sum_parts(const ps_side_term *term)
{
    int sum = 0;
    for (int part = 0; part < PS_PART_COUNT; part++)
        sum += term->parts[part];
    return sum;
}

int ps_count_blocked_steps(const ps_board *board, Side side, const ps_lead *lead)
{
    Square pawn = (Square)lead->pawn, goal = (Square)lead->square;
    return steps_to_go(side, pawn, goal) +
           count_squares(squares_to_go(side, pawn, goal) & board_pieces(board));
}

static ps_side_term score_lever(const Stake *stake, const ps_board *board, const ps_weights *weights,
                                Side side, int tempi, int surplus)
{
    ps_side_term term = {.square = stake->lead.square, .lever = stake->lever, .tempi = tempi};
    const int *by_tempi = term.lever == PS_BASE ? weights->base_lever : weights->head_lever;
    term.parts[PS_PART_LEVER] = by_tempi[tempi < PS_TEMPI_CLASSES ? tempi : PS_TEMPI_CLASSES - 1];
    if (surplus > 0)
        term.parts[PS_PART_SUPPORT] =
            weights->support * (surplus < PS_SURPLUS_MOST ? surplus : PS_SURPLUS_MOST);
    term.parts[PS_PART_ROOM] = weights->room * stake->lead.room / PS_ROOM_UNITS;
    term.parts[PS_PART_PIECES] = weights->piece * count_wing_pieces(board, side, stake->lead.wing);
    for (int part = 0; part < PS_PART_COUNT; part++)
        term.parts[part] = term.parts[part] * weights->grade[stake->grade] / 100;
    return term;
}

ps_side_term ps_score_live(const Stake *stake, const ps_board *board, const ps_weights *weights, Side side,
                           int blocked)
{
    const ps_lead *lead = &stake->lead;
    Support support = count_support(board, side, lead->square, lead->pawn);
    int tempi = lead->pawn == lead->square ? 0 : blocked + support_short(support);
    return score_lever(stake, board, weights, side, tempi, support.supporters - support.attackers);
}

ps_side_term ps_score_done(const Stake *stake, const ps_board *board, const ps_weights *weights, Side side)
{
    return score_lever(stake, board, weights, side, 0, PS_SURPLUS_MOST);
}

int ps_compare_scores(const ps_side_term *term, const ps_side_term *other)
{
    int difference = sum_parts(term) - sum_parts(other);
    for (int part = 0; difference == 0 && part < PS_PART_COUNT; part++)
        difference = term->parts[part] - other->parts[part];
    return difference;
}

ps_side_term ps_score_side(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights,
                           Side side, unsigned *leads)
{
    ps_side_term best = no_side_term;
    *leads = 0;
    for (int i = 0; i < skeleton->lead_count[side]; i++) {
        Stake stake = {skeleton->leads[side][i], skeleton->lever[side], skeleton->grade[side]};
        int blocked = ps_count_blocked_steps(board, side, &stake.lead);
        /* The order of chains asks for the tempi of base levers only. */
        bool rank_by_tempi = best.square != PS_NO_SQUARE && best.lever == PS_BASE;
        if (rank_by_tempi && blocked > best.tempi)
            continue;
        ps_side_term term = ps_score_live(&stake, board, weights, side, blocked);
        int better = best.square == PS_NO_SQUARE                 ? 1
                     : rank_by_tempi && term.tempi != best.tempi ? best.tempi - term.tempi
                                                                 : ps_compare_scores(&term, &best);
        if (better > 0) {
            best = term;
            *leads = 0;
        }
        if (better >= 0)
            *leads |= 1U << i;
    }
    return best;
}

int ps_sum_sides(const ps_side_term sides[SIDE_COUNT], Side to_move)
{
    return sum_parts(&sides[to_move]) - sum_parts(&sides[opposite(to_move)]);
}

int ps_term_parts(ps_side_term out[2], const ps_skeleton *skeleton, const ps_board *board,
                  const ps_weights *weights)
{
    unsigned leads;
    for (Side side = WHITE; side <= BLACK; side++)
        out[side] = ps_score_side(skeleton, board, weights, side, &leads);
    return ps_sum_sides(out, board->to_move);
}

int ps_term(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights)
{
    if (ps_is_silent(skeleton))
        return 0;
    ps_side_term sides[SIDE_COUNT];
    return ps_term_parts(sides, skeleton, board, weights);
}
