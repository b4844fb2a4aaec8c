#include "structure/plan.h"

/* More supporters than that add nothing. */
enum { MAX_SURPLUS = 3, ROOM_UNITS = 16 };

static const ps_side_term nothing = {.square = PS_NO_SQUARE, .lever = PS_BASE, .tempi = PS_NO_COUNT};

static int sum_parts(const ps_side_term *term)
{
    int sum = 0;
    for (int part = 0; part < PS_PART_COUNT; part++)
        sum += term->parts[part];
    return sum;
}

static int blocked_steps(const ps_board *board, Side side, const ps_lead *lead)
{
    Square pawn = (Square)lead->pawn, goal = (Square)lead->square;
    return steps_to_go(side, pawn, goal) +
           count_squares(squares_to_go(side, pawn, goal) & board_pieces(board));
}

/* What a lead scores for its side. `blocked` is what it takes without regard to support. */
static ps_side_term score_lead(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights,
                               Side side, const ps_lead *lead, int blocked)
{
    Support support = count_support(board, side, lead->square, lead->pawn);
    int surplus = support.supporters - support.attackers;
    ps_side_term term = {
        .square = lead->square,
        .lever = skeleton->lever[side],
        .tempi = lead->pawn == lead->square ? 0 : blocked + support_short(support),
    };
    const int *by_tempi = term.lever == PS_BASE ? weights->base_lever : weights->head_lever;
    int class = term.tempi < PS_TEMPI_CLASSES ? term.tempi : PS_TEMPI_CLASSES - 1;

    term.parts[PS_PART_LEVER] = by_tempi[class];
    if (surplus > 0)
        term.parts[PS_PART_SUPPORT] = weights->support * (surplus < MAX_SURPLUS ? surplus : MAX_SURPLUS);
    term.parts[PS_PART_ROOM] = weights->room * lead->room / ROOM_UNITS;
    term.parts[PS_PART_PIECES] = weights->piece * count_wing_pieces(board, side, lead->wing);
    for (int part = 0; part < PS_PART_COUNT; part++)
        term.parts[part] = term.parts[part] * weights->grade[skeleton->grade[side]] / 100;
    return term;
}

/* Among leads with equal claims the best score counts, not the first on the board: the term must not change
 * when the wings are changed round. The parts decide between equal sums, so that they do
 * not change either. */
static bool scores_better(const ps_side_term *term, const ps_side_term *other)
{
    int difference = sum_parts(term) - sum_parts(other);
    for (int part = 0; difference == 0 && part < PS_PART_COUNT; part++)
        difference = term->parts[part] - other->parts[part];
    return difference > 0;
}

static ps_side_term score_side(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights,
                               Side side)
{
    ps_side_term best = nothing;
    for (int i = 0; i < skeleton->lead_count[side]; i++) {
        const ps_lead *lead = &skeleton->leads[side][i];
        int blocked = blocked_steps(board, side, lead);
        /* The order of chains asks for the tempi of base levers only. */
        bool rank_by_tempi = best.square != PS_NO_SQUARE && best.lever == PS_BASE;
        if (rank_by_tempi && blocked > best.tempi)
            continue;
        ps_side_term term = score_lead(skeleton, board, weights, side, lead, blocked);
        bool faster = rank_by_tempi && term.tempi < best.tempi;
        bool level = !rank_by_tempi || term.tempi == best.tempi;
        if (best.square == PS_NO_SQUARE || faster || (level && scores_better(&term, &best)))
            best = term;
    }
    return best;
}

int ps_term_parts(ps_side_term out[2], const ps_skeleton *skeleton, const ps_board *board,
                  const ps_weights *weights)
{
    for (Side side = WHITE; side <= BLACK; side++)
        out[side] = score_side(skeleton, board, weights, side);
    Side us = board->to_move;
    return sum_parts(&out[us]) - sum_parts(&out[opposite(us)]);
}

int ps_term(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights)
{
    if (ps_is_silent(skeleton))
        return 0;
    ps_side_term sides[SIDE_COUNT];
    return ps_term_parts(sides, skeleton, board, weights);
}
