#include "engine/search/pruning.h"

#include "engine/search/exchange.h"

/* Of the side to move, besides pawns and king: where there are none, to have to move may be a misfortune. */
static bool has_pieces(const Position *p)
{
    return (p->by_side[position_turn(p)] & ~(p->by_role[PAWN] | p->by_role[KING])) != 0;
}

/* ----------------------------------------------------------------------------------------- the whole node */

bool static_score_cuts(const Parameters *par, const Node *n)
{
    return par->static_margin && n->depth <= par->static_depth && !score_is_mate(n->beta) &&
           n->estimate - par->static_margin * (n->depth - n->improving) >= n->beta;
}

bool falls_to_quiescence(const Parameters *par, const Node *n)
{
    return par->razor_margin && n->depth <= par->razor_depth &&
           n->estimate + par->razor_margin * n->depth < n->alpha;
}

bool tries_null_move(const Parameters *par, const Node *n)
{
    const Frame *f = n->f;
    bool after_null_move = f->ply > 0 && f[-1].role_square < 0;
    return par->null_move && n->depth >= NULL_LEAST_DEPTH && n->estimate >= n->beta &&
           !score_is_mate(n->beta) && !after_null_move && has_pieces(&f->position);
}

int null_move_depth(const Parameters *par, const Node *n)
{
    int above = at_most(100 * (n->estimate - n->beta) / par->null_margin, NULL_MARGIN_MOST);
    return n->depth - (par->null_base + 100 * n->depth / par->null_divisor + above) / 100;
}

bool tries_alternatives(const Parameters *par, const Node *n)
{
    const TableEntry *entry = &n->entry;
    return par->singular && n->known && n->depth >= par->singular_depth &&
           entry->depth >= n->depth - SINGULAR_TABLE_DEPTH &&
           (entry->bound == BOUND_LOWER || entry->bound == BOUND_EXACT) && !score_is_mate(n->table_score) &&
           movegen_is_legal(&n->f->position, entry->move);
}

int alternatives_target(const Parameters *par, const Node *n)
{
    return n->table_score - par->singular_margin * n->depth / 16;
}

int reduction_with_alternatives(const Parameters *par, const Node *n)
{
    return n->table_score >= n->beta ? par->singular_beta : n->expected_cut ? par->singular_cut : 0;
}

int depth_without_table_move(const Parameters *par, const Node *n)
{
    bool unknown = n->entry.move == NO_MOVE && !n->f->excluded;
    bool counts = n->depth >= INTERNAL_LEAST_DEPTH && (n->pv || n->expected_cut);
    return n->depth - (par->internal_reduction && unknown && counts);
}

int depth_after_raise(const Parameters *par, const Node *n, int score)
{
    bool counts = n->depth > RAISE_ABOVE_DEPTH && n->depth < RAISE_BELOW_DEPTH && !score_is_mate(score);
    return counts ? n->depth - par->alpha_reduction : n->depth;
}

/* ------------------------------------------------------------------------------------------- single moves */

void look_at_move(const Searcher *s, const Node *n, Move move, int number, MoveContext *m)
{
    const Position *p = &n->f->position;
    *m = (MoveContext){.move = move,
                       .quiet = move_is_quiet(p, move),
                       .gives_check = position_gives_check(p, &n->checks, move),
                       .number = number,
                       .reduction = reduction_of(&s->reductions, n->depth, number)};
    if (m->quiet)
        m->history = quiet_history(p, &n->hints, move);
}

bool prunes_move(const Parameters *par, const Node *n, const MoveContext *m, int best)
{
    const Frame *f = n->f;
    if (score_is_loss(best) || !has_pieces(&f->position))
        return false;
    if (!m->quiet) {
        return par->exchange_capture && n->depth <= EXCHANGE_CAPTURE_DEPTH && !m->gives_check &&
               !exchange_at_least(&f->position, m->move, -par->exchange_capture * n->depth);
    }
    if (m->gives_check)
        return false;
    if (par->late_base && n->depth <= par->late_depth) {
        int tried = (par->late_base + n->depth * n->depth) / (n->improving ? 1 : LATE_DIVISOR);
        if (m->number > tried)
            return true;
    }
    int left = at_least(n->depth - 1 - m->reduction / 100, 0);
    if (par->history_margin && left <= HISTORY_DEPTH && m->history < -par->history_margin * (left + 1))
        return true;
    if (par->futility_margin && left <= par->futility_depth && !f->checkers &&
        f->static_score + par->futility_base + par->futility_margin * left <= n->alpha)
        return true;
    return par->exchange_quiet && left <= EXCHANGE_QUIET_DEPTH &&
           !exchange_at_least(&f->position, m->move, -par->exchange_quiet * left * left);
}

int extension_of(const Parameters *par, const Node *n, const MoveContext *m)
{
    int extension = m->move == n->entry.move ? n->extension : 0;
    if (m->gives_check && extension == 0 && par->check_extension && n->depth < CHECK_EXTENSION_DEPTH &&
        exchange_at_least(&n->f->position, m->move, 0))
        extension = 1;
    return n->f->ply < EXTENSION_PLIES ? extension : at_most(extension, 0);
}

bool reduces_move(const Parameters *par, const Node *n, const MoveContext *m)
{
    return par->reductions && n->depth >= REDUCTION_LEAST_DEPTH && m->number > 1 + n->pv &&
           (m->quiet || m->number > UNREDUCED_CAPTURES);
}

int reduced_depth(const Parameters *par, const Node *n, const MoveContext *m, int cutoffs, int full)
{
    const OrderingHints *hints = &n->hints;
    int reduction = m->quiet ? m->reduction - m->history * 100 / par->reduction_history
                             : m->reduction / CAPTURE_REDUCTION_DIVISOR;
    if (n->pv)
        reduction -= par->reduction_pv;
    else if (n->expected_cut)
        reduction += par->reduction_cut;
    if (n->improving)
        reduction -= par->reduction_improving;
    if (m->gives_check)
        reduction -= par->reduction_check;
    if (cutoffs > MANY_CUTOFFS)
        reduction += par->reduction_cutoffs;
    if (m->move == hints->killers[0] || m->move == hints->killers[1] || m->move == hints->counter)
        reduction -= par->reduction_killer;
    return clamp(full - at_least(reduction, 0) / 100, 1, full);
}

int reduced_root_depth(const Searcher *s, int depth, int number)
{
    int full = depth - 1;
    if (depth < REDUCTION_LEAST_DEPTH || number <= UNREDUCED_AT_ROOT)
        return full;
    int reduction = reduction_of(&s->reductions, depth, number) / 100 - ROOT_LESS_REDUCTION;
    return reduction > 0 ? at_least(full - reduction, 1) : full;
}
