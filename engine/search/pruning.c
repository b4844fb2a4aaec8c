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
           n->estimate - par->static_margin * n->depth >= n->beta;
}

bool falls_to_quiescence(const Parameters *par, const Node *n)
{
    return par->razor_margin && n->depth <= par->razor_depth &&
           n->estimate + par->razor_margin * n->depth < n->alpha;
}

bool tries_null_move(const Node *n)
{
    const Frame *f = n->f;
    bool after_null_move = f->ply > 0 && move_before(f) < 0;
    return n->depth >= NULL_LEAST_DEPTH && n->estimate >= n->beta && !score_is_mate(n->beta) &&
           !after_null_move && has_pieces(&f->position);
}

int null_move_depth(const Parameters *par, const Node *n)
{
    int rise = at_most(n->estimate - n->beta, NULL_RISE_MOST) * par->null_rise / 100;
    return n->depth - (par->null_base + 100 * n->depth / par->null_divisor + rise) / 100;
}

bool tries_alternatives(const Parameters *par, const Node *n)
{
    const TableEntry *entry = &n->entry;
    return n->known && n->depth >= par->singular_depth && entry->depth >= n->depth - SINGULAR_TABLE_DEPTH &&
           (entry->bound == BOUND_LOWER || entry->bound == BOUND_EXACT) && !score_is_mate(n->table_score) &&
           movegen_is_legal(&n->f->position, entry->move);
}

int alternatives_target(const Parameters *par, const Node *n)
{
    return n->table_score - par->singular_margin * n->depth / 16;
}

int extension_with_alternatives(const Parameters *par, const Node *n)
{
    return n->expected_cut || n->table_score >= n->beta ? -par->singular_less : 0;
}

int depth_without_table_move(const Parameters *par, const Node *n)
{
    bool unknown = n->entry.move == NO_MOVE && !n->f->excluded;
    bool counts = n->depth >= INTERNAL_LEAST_DEPTH && (n->pv || n->expected_cut);
    return unknown && counts ? n->depth - par->internal_reduction : n->depth;
}

int depth_behind_raise(const Parameters *par, const Node *n, int score)
{
    bool counts = !n->raised && n->depth >= RAISED_LEAST_DEPTH && !score_is_mate(score);
    return counts ? n->depth - par->raised_less : n->depth;
}

/* ------------------------------------------------------------------------------------------- single moves */

void set_prospect(Node *n)
{
    const Frame *f = n->f;
    n->prospect = chance_before_move(n->depth, f->checkers ? CHANCE_NO_GAP : n->alpha - f->static_score);
}

static Origin origin_of(const Node *n, Move move)
{
    const Threats *threats = &n->threats;
    Bitboard from = bit(move_from(move));
    return !(threats->attacked & from)                                               ? FROM_SAFE
           : threats->unsafe[position_role(&n->f->position, move_from(move))] & from ? FROM_LESSER
                                                                                     : FROM_ATTACKED;
}

/* The best that can be said of where a move goes before the exchange there has been counted. */
static Goal goal_at_best(const Node *n, Move move)
{
    return n->threats.attacked >> move_to(move) & 1 ? TO_HELD : TO_SAFE;
}

/* And what the exchange says. */
static Goal goal_by_exchange(const Node *n, Move move)
{
    const Position *p = &n->f->position;
    return exchange_at_least(p, move, 0)             ? TO_HELD
           : exchange_at_least(p, move, -LOST_PAWN)  ? TO_LOSE_PAWN
           : exchange_at_least(p, move, -LOST_PIECE) ? TO_LOSE_PIECE
                                                     : TO_LOSE_MORE;
}

static MoveSort sort_of_quiet(const OrderingHints *hints, Move move)
{
    return move == hints->killers[0]   ? SORT_KILLER
           : move == hints->killers[1] ? SORT_OLDER_KILLER
           : move == hints->counter    ? SORT_COUNTER
                                       : SORT_QUIET;
}

/* Not the first move, no check, and nothing that may be the last rescue. */
static bool may_be_left_out(const Node *n, const MoveContext *m, int best)
{
    return m->number > 1 && !m->gives_check && !score_is_loss(best) && has_pieces(&n->f->position);
}

static bool is_hopeless(const Parameters *par, const Node *n, const MoveContext *m)
{
    return m->traits + n->prospect < -par->skip_line - par->skip_slope * n->depth;
}

bool skips_move(const Searcher *s, const Node *n, int best, MoveContext *m)
{
    const Position *p = &n->f->position;
    const Parameters *par = &s->parameters;
    m->quiet = move_is_quiet(p, m->move);
    m->gives_check = position_gives_check(p, &n->checks, m->move);
    if (m->number == 1)
        return false;
    bool may = may_be_left_out(n, m, best), counts = may && m->quiet;
    if (may && !m->quiet && n->depth <= EXCHANGE_CAPTURE_DEPTH &&
        !exchange_at_least(p, m->move, -par->exchange_capture * n->depth))
        return true;

    int by_order = chance_by_order(n->depth, m->number, m->history, m->quiet);
    MoveSort sort = m->quiet ? sort_of_quiet(&n->hints, m->move) : SORT_CAPTURE;
    Origin origin = origin_of(n, m->move);
    Goal goal = goal_at_best(n, m->move);
    m->traits = by_order + chance_by_sort(sort, m->gives_check) + chance_by_squares(origin, goal);
    bool skips = counts && is_hopeless(par, n, m);
    if (skips || goal == TO_SAFE)
        return skips;
    goal = goal_by_exchange(n, m->move);
    if (!m->quiet && goal >= TO_LOSE_PAWN)
        sort = SORT_LOSING_CAPTURE;
    m->traits = by_order + chance_by_sort(sort, m->gives_check) + chance_by_squares(origin, goal);
    return counts && is_hopeless(par, n, m);
}

void look_behind_move(Searcher *s, const Node *n, MoveContext *m, Frame *next)
{
    if (m->number == 1 || n->depth < LOOK_LEAST_DEPTH)
        return;
    int gap = CHANCE_NO_GAP;
    if (!next->checkers) {
        TableEntry entry;
        bool known = table_probe(s->table, table_key(&next->position), &entry);
        StaticScore look = searcher_look(s, next, known ? &entry : NULL);
        next->raw = look.raw;
        gap = n->alpha + look.corrected;
    }
    m->chance = m->traits + chance_behind_move(n->depth, gap);
    if (gap != CHANCE_NO_GAP && !n->f->checkers)
        m->shift = chance_behind_move(SHIFT_DEPTH, gap) -
                   chance_behind_move(SHIFT_DEPTH, n->alpha - n->f->static_score);
}

/* So that no gap is taken for the sign that there is none. */
static int16_t bounded_gap(int gap)
{
    enum { GAP_MOST = 30000 };
    return (int16_t)(gap == CHANCE_NO_GAP ? gap : clamp(gap, -GAP_MOST, GAP_MOST));
}

ChanceMove describe_move(const Node *n, const MoveContext *m, int gap_behind)
{
    const Frame *f = n->f;
    Goal goal = goal_at_best(n, m->move);
    if (goal != TO_SAFE)
        goal = goal_by_exchange(n, m->move);
    MoveSort sort = m->quiet               ? sort_of_quiet(&n->hints, m->move)
                    : goal >= TO_LOSE_PAWN ? SORT_LOSING_CAPTURE
                                           : SORT_CAPTURE;
    return (ChanceMove){
        .history = m->history,
        .gap_before = bounded_gap(f->checkers ? CHANCE_NO_GAP : n->alpha - f->static_score),
        .gap_behind = bounded_gap(gap_behind),
        .depth = (uint8_t)n->depth,
        .number = (uint8_t)m->number,
        .sort = (uint8_t)sort,
        .origin = (uint8_t)origin_of(n, m->move),
        .goal = (uint8_t)goal,
        .gives_check = m->gives_check,
    };
}

bool drops_move(const Parameters *par, const Node *n, const MoveContext *m, int best)
{
    return n->depth >= LOOK_LEAST_DEPTH && may_be_left_out(n, m, best) &&
           m->chance < -par->drop_line - par->drop_slope * n->depth;
}

int extension_of(const Parameters *par, const Node *n, const MoveContext *m)
{
    if (n->f->ply >= EXTENSION_PLIES)
        return 0;
    if (n->extension && m->move == n->entry.move)
        return n->extension;
    bool counts = m->gives_check && n->depth < CHECK_EXTENSION_DEPTH;
    return counts && exchange_at_least(&n->f->position, m->move, 0) ? par->check_extension : 0;
}

bool reduces_move(const Node *n, const MoveContext *m)
{
    return n->depth >= REDUCTION_LEAST_DEPTH && m->number > 1 + n->pv;
}

/* 100 times the cube root, so that no floating point comes near the search. */
static int hundred_cube_root(int n)
{
    static const int16_t table[] = {
        0,   100, 126, 144, 159, 171, 182, 191, 200, 208, 215, 222, 229, 235, 241, 247, 252,
        257, 262, 267, 271, 276, 280, 284, 288, 292, 296, 300, 304, 307, 311, 314, 317, 321,
        324, 327, 330, 333, 336, 339, 342, 345, 348, 350, 353, 356, 358, 361, 363, 366, 368,
        371, 373, 376, 378, 380, 383, 385, 387, 389, 391, 394, 396, 398, 400,
    };
    enum { LAST = sizeof table / sizeof *table - 1 };
    return table[at_most(n, LAST)];
}

int reduced_depth(const Parameters *par, const Node *n, const MoveContext *m, int full)
{
    int chance = m->chance + m->history * par->reduction_history / HISTORY_LIMIT;
    int below = clamp(-par->reduction_line - chance, -par->reduction_most, par->reduction_most);
    int reduction =
        par->reduction_root * hundred_cube_root(n->depth) / 100 * hundred_cube_root(m->number) / 100 +
        par->reduction_chance * below / 100;
    reduction += n->pv ? -par->reduction_pv : n->expected_cut ? par->reduction_cut : 0;
    return clamp(full - at_least(reduction, 0) / 100, 1, full);
}

/* A ply for each doubling of the number from the fourth move on. */
int reduced_root_depth(int depth, int number)
{
    int full = depth - 1, reduction = depth > ROOT_SHALLOW ? -1 : -2;
    for (int rest = number; rest > 1; rest /= 2)
        reduction++;
    bool counts = depth >= REDUCTION_LEAST_DEPTH && reduction > 0;
    return counts ? at_least(full - reduction, 1) : full;
}
