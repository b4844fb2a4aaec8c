#include "engine/search/search.h"

#include "engine/search/learning.h"
#include "engine/search/pruning.h"
#include "engine/search/quiescence.h"

/* What becomes of each move, is told whoever includes this file with something to note it by: chance_sampling.c. */
#ifndef NOTE_MOVE
#define NOTE_MOVE(searcher, node, context, raised) ((void)0)
#endif

/* Whether beta holds even if the other side may move; then the score is the node's. */
static bool null_move_holds(Searcher *s, const Node *n, int *score)
{
    Frame *next = searcher_pass(s, n->f);
    *score =
        -search_node(s, next, -n->beta, -n->beta + 1, null_move_depth(&s->parameters, n), !n->expected_cut);
    if (s->stopped || *score < n->beta)
        return false;
    if (score_is_mate(*score))
        *score = n->beta;
    return true;
}

/* Whether no move need be looked at; then the score is the node's. Meaningless once s->stopped. */
static bool prunes_node(Searcher *s, const Node *n, int *score)
{
    const Parameters *par = &s->parameters;
    if (n->pv || n->f->checkers || n->f->excluded)
        return false;
    *score = n->estimate;
    if (static_score_cuts(par, n))
        return true;
    if (falls_to_quiescence(par, n)) {
        *score = quiesce(s, n->f, n->alpha, n->alpha + 1);
        if (*score <= n->alpha || s->stopped)
            return true;
    }
    return tries_null_move(n) && null_move_holds(s, n, score);
}

/* How many plies more (or less) the table's move deserves: if without it everything stays clearly below its
 * score, it is singular. Sets *cut if even without it beta holds. */
static int singular_extension(Searcher *s, const Node *n, int *cut)
{
    const Parameters *par = &s->parameters;
    Frame *f = n->f;
    if (!tries_alternatives(par, n))
        return 0;
    int target = alternatives_target(par, n);
    f->excluded = n->entry.move;
    int score = search_node(s, f, target - 1, target, (n->depth - 1) / SINGULAR_DIVISOR, n->expected_cut);
    f->excluded = NO_MOVE;
    if (score < target)
        return 1;
    if (target >= n->beta)
        *cut = target;
    return extension_with_alternatives(par, n);
}

/* The score of a move that has been played: late ones are tried less deep, all but the first of a principal
 * variation with the narrowest window, and once more if they turn out better than that. */
static int search_move(Searcher *s, const Node *n, const MoveContext *m, Frame *next, int depth)
{
    const int alpha = n->alpha;
    int score = -SCORE_INFINITE;
    bool full = !n->pv || m->number > 1;
    if (reduces_move(n, m)) {
        int reduced = reduced_depth(&s->parameters, n, m, depth);
        score = -search_node(s, next, -alpha - 1, -alpha, reduced, true);
        full = score > alpha && reduced < depth;
    }
    if (full && !s->stopped)
        score = -search_node(s, next, -alpha - 1, -alpha, depth, !n->expected_cut);
    if (n->pv && !s->stopped && (m->number == 1 || score > alpha))
        score = -search_node(s, next, -n->beta, -alpha, depth, false);
    return score;
}

/* The best score of all moves, -SCORE_INFINITE if there are none, and the move if it raised alpha. */
static int search_moves(Searcher *s, Node *n, Move *best_move)
{
    const Parameters *par = &s->parameters;
    Frame *f = n->f;
    const Position *p = &f->position;
    Agenda agenda;
    Tried tried = {.quiet_count = 0, .capture_count = 0};
    MoveContext m;
    Move move;
    int number = 0, best = -SCORE_INFINITE;

    position_view_checks(p, &n->checks);
    searcher_set_hints(s, f, n->entry.move, &n->threats, &n->hints);
    set_prospect(n);
    picker_start(&agenda.picker, p, s->histories, &n->hints, false);
    agenda_start(&agenda, n->depth >= SHARED_DEPTH ? s->shared : NULL, p, f->excluded);
    while ((move = agenda_next(&agenda, &number)) != NO_MOVE) {
        m = (MoveContext){.move = move, .number = number, .history = agenda.history};
        if (skips_move(s, n, best, &m))
            continue;
        int refuted;
        if (number > 1 && agenda_is_refuted(&agenda, move, n->depth, &refuted) && refuted <= n->alpha) {
            note_tried(&tried, move, m.quiet);
            best = at_least(best, refuted);
            continue;
        }
        Frame *next = searcher_play(s, f, move, m.gives_check);
        look_behind_move(s, n, &m, next);
        learn_look(s, p, &n->hints, &m, n->depth);
        if (drops_move(par, n, &m, best))
            continue;
        note_tried(&tried, move, m.quiet);
        agenda_begin(&agenda, move);
        int score = search_move(s, n, &m, next, n->depth - 1 + extension_of(par, n, &m));
        agenda_end(&agenda, move);
        if (s->stopped)
            return SCORE_DRAW;
        NOTE_MOVE(s, n, &m, score > n->alpha);

        if (score <= n->alpha)
            agenda_refute(&agenda, move, n->depth, score);
        if (score <= best)
            continue;
        best = score;
        if (score <= n->alpha)
            continue;
        *best_move = move;
        if (n->pv)
            frame_take_line(f, move);
        if (score >= n->beta) {
            searcher_count_cutoff(s, FULL_WIDTH, number == 1);
            learn_cutoff(s, f, &n->hints, move, &tried, n->depth);
            break;
        }
        n->alpha = score;
        n->depth = depth_behind_raise(par, n, score);
        n->raised = true;
        set_prospect(n);
    }
    return best;
}

/* What the search has found goes into the table and teaches the corrections. */
static void keep(Searcher *s, const Node *n, int best, Move best_move, int first_alpha)
{
    const Frame *f = n->f;
    Bound bound = best >= n->beta ? BOUND_LOWER : best > first_alpha ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, table_key(&f->position),
                (TableEntry){best_move, score_to_table(best, f->ply), n->raw, n->depth, bound});
    learn_correction(s, f, best, bound, best_move, n->depth);
}

int search_node(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut)
{
    const Position *p = &f->position;
    if (depth <= 0)
        return quiesce(s, f, alpha, beta);
    int score;
    if (searcher_ends(s, f, &score))
        return score;
    /* No line from here can be better than a mate already found, or worse than being mated now. */
    alpha = at_least(alpha, score_mated_at(f->ply));
    beta = at_most(beta, -score_mated_at(f->ply + 1));
    if (alpha >= beta)
        return alpha;

    Node n = {.f = f,
              .alpha = alpha,
              .beta = beta,
              .depth = depth,
              .pv = beta - alpha > 1,
              .expected_cut = expected_cut,
              .entry = {.move = NO_MOVE},
              .table_score = SCORE_NONE,
              .raw = SCORE_NONE,
              .estimate = SCORE_NONE};
    n.known = !f->excluded && table_probe(s->table, table_key(p), &n.entry);
    if (n.known)
        n.table_score = score_from_table(n.entry.score, f->ply);
    if (n.known && !n.pv && n.entry.depth >= depth && table_cuts(&n.entry, n.table_score, alpha, beta))
        return n.table_score;

    if (f->checkers) {
        f->static_score = SCORE_NONE;
    } else if (!f->excluded) {
        StaticScore look = searcher_look(s, f, n.known ? &n.entry : NULL);
        n.raw = look.raw;
        n.estimate = look.estimate;
        f->static_score = look.corrected;
    }
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;

    bool pruned = prunes_node(s, &n, &score);
    if (pruned || s->stopped)
        return pruned ? score : SCORE_DRAW;
    n.depth = depth_without_table_move(&s->parameters, &n);
    int cut = -SCORE_INFINITE;
    n.extension = singular_extension(s, &n, &cut);
    if (s->stopped)
        return SCORE_DRAW;
    if (cut >= beta && !n.pv)
        return cut;

    Move best_move = NO_MOVE;
    int best = search_moves(s, &n, &best_move);
    if (best == -SCORE_INFINITE)
        return f->excluded ? alpha : f->checkers ? score_mated_at(f->ply) : SCORE_DRAW;
    if (!f->excluded && !s->stopped)
        keep(s, &n, best, best_move, alpha);
    return best;
}
