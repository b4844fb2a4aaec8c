#include "engine/search.h"

#include "engine/exchange.h"

#include <assert.h>
#include <string.h>

/* 100 ln n, so that no floating point comes near the search. */
static const int16_t logarithm[REDUCTION_TABLE] = {
    0,   0,   69,  110, 139, 161, 179, 195, 208, 220, 230, 240, 248, 256, 264, 271,
    277, 283, 289, 294, 300, 304, 309, 314, 318, 322, 326, 330, 333, 337, 340, 343,
    347, 350, 353, 356, 358, 361, 364, 366, 369, 371, 374, 376, 378, 381, 383, 385,
    387, 389, 391, 393, 395, 397, 399, 401, 403, 404, 406, 408, 409, 411, 413, 414};

static int at_most(int value, int limit)
{
    return value < limit ? value : limit;
}

static int at_least(int value, int limit)
{
    return value > limit ? value : limit;
}

void searcher_configure(Searcher *s, const Parameters *parameters)
{
    s->parameters = *parameters;
    for (int depth = 0; depth < REDUCTION_TABLE; depth++)
        for (int number = 0; number < REDUCTION_TABLE; number++) {
            int logs = logarithm[depth] * logarithm[number] / parameters->reduction_divisor;
            s->reduction[depth][number] =
                (int16_t)(parameters->reductions ? parameters->reduction_base + logs : 0);
        }
}

void searcher_forget(Searcher *s)
{
    memset((void *)s->histories, 0, sizeof *s->histories);
    memset((void *)s->corrections, 0, sizeof *s->corrections);
}

/* ------------------------------------------------------------------------------------------- playing moves
 */

static void enter(Searcher *s, Frame *next)
{
    s->nodes++;
    s->keys[s->root_key + (size_t)next->ply] = next->position.key;
}

Frame *searcher_play(Searcher *s, Frame *f, Move move, bool gives_check)
{
    Frame *next = f + 1;
    f->role_square = role_square(&f->position, move);
    next->position = f->position;
    position_play(&next->position, move);
    table_prefetch(s->table, next->position.key);
    next->ply = f->ply + 1;
    next->reversible = f->reversible + 1;
    next->checkers = gives_check ? position_checkers(&next->position) : 0;
    assert(next->checkers == position_checkers(&next->position));
    enter(s, next);
    return next;
}

static Frame *play_null(Searcher *s, Frame *f)
{
    Frame *next = f + 1;
    f->role_square = -1;
    next->position = f->position;
    position_pass(&next->position);
    table_prefetch(s->table, next->position.key);
    next->ply = f->ply + 1;
    next->reversible = 0;
    next->checkers = 0;
    enter(s, next);
    return next;
}

void frame_take_line(Frame *f, Move move)
{
    const Frame *next = f + 1;
    f->pv[0] = move;
    memcpy(f->pv + 1, next->pv, (size_t)next->pv_length * sizeof *f->pv);
    f->pv_length = next->pv_length + 1;
}

/* ------------------------------------------------------------------------------------------- draws and stops
 */

/* The first nodes may take long, while the system hands out the pages of the table. */
static bool must_stop(Searcher *s)
{
    enum { SLOW_NODES = 8192, ASK_EVERY = 256, ASK_EVERY_AT_FIRST = 2 };
    bool ask = s->nodes % ASK_EVERY == 0 || (s->nodes < SLOW_NODES && s->nodes % ASK_EVERY_AT_FIRST == 0);
    if (!s->stopped && (s->nodes >= s->node_limit || (ask && s->should_stop(s->context))))
        s->stopped = true;
    return s->stopped;
}

/* A position that comes again within the search counts as a draw at once: what can be repeated once can be
 * repeated twice. One from the game must have stood there twice before. */
static bool is_repetition(const Searcher *s, const Frame *f)
{
    const uint64_t *here = &s->keys[s->root_key + (size_t)f->ply];
    size_t back = s->root_key + (size_t)f->ply;
    int plies = at_most(f->position.halfmoves, f->reversible);
    int before_root = 0;
    plies = (size_t)plies < back ? plies : (int)back;
    for (int i = 4; i <= plies; i += 2)
        if (here[-i] == f->position.key && (i < f->ply || ++before_root == 2))
            return true;
    return false;
}

static bool is_draw(const Searcher *s, const Frame *f)
{
    const Position *p = &f->position;
    if (p->halfmoves >= 100)
        return !f->checkers || movegen_any(p);
    return is_repetition(s, f) || position_material_is_dead(p);
}

/* ------------------------------------------------------------------------------------------- static scores
 */

static int corrected(Searcher *s, const Position *p, int score)
{
    if (score_is_mate(score))
        return score;
    score += correction_of(s->corrections, &s->parameters, p);
    return at_most(at_least(score, -SCORE_MATE_FLOOR + 1), SCORE_MATE_FLOOR - 1);
}

int searcher_static_score(Searcher *s, const Position *position)
{
    return corrected(s, position, evaluate(&s->evaluator, position));
}

/* ------------------------------------------------------------------------------------------- histories */

void searcher_set_hints(const Searcher *s, const Frame *f, Move table_move, OrderingHints *hints)
{
    *hints = (OrderingHints){.table_move = table_move,
                             .killers = {f->killers[0], f->killers[1]},
                             .escape_bonus = s->parameters.escape_bonus};
    for (int i = 0; i < CONTINUATIONS; i++) {
        const Frame *earlier = f - 1 - i;
        if (f->ply > i && earlier->role_square >= 0 && s->parameters.continuation)
            hints->pages[i] = s->histories->continuation[i][earlier->role_square];
    }
    if (f->ply > 0 && f[-1].role_square >= 0)
        hints->counter =
            atomic_load_explicit(&s->histories->counter[f[-1].role_square], memory_order_relaxed);
}

static void learn_quiet(Searcher *s, const Frame *f, Move move, int bonus)
{
    const Position *p = &f->position;
    history_learn(&s->histories->quiet[position_turn(p)][move_from(move)][move_to(move)], bonus);
    for (int i = 0; i < CONTINUATIONS; i++) {
        const Frame *earlier = f - 1 - i;
        if (f->ply > i && earlier->role_square >= 0)
            history_learn(&s->histories->continuation[i][earlier->role_square][role_square(p, move)], bonus);
    }
}

/* The move that cut off gains, the moves of its kind tried before it lose. */
static void learn_cutoff(Searcher *s, Frame *f, Move best, const Move *quiets, int quiet_count,
                         const Move *captures, int capture_count, int depth)
{
    int bonus = at_most(150 * depth - 50, 1500);
    if (move_is_quiet(&f->position, best)) {
        if (f->killers[0] != best) {
            f->killers[1] = f->killers[0];
            f->killers[0] = best;
        }
        if (f->ply > 0 && f[-1].role_square >= 0)
            atomic_store_explicit(&s->histories->counter[f[-1].role_square], best, memory_order_relaxed);
        learn_quiet(s, f, best, bonus);
        for (int i = 0; i < quiet_count; i++)
            if (quiets[i] != best)
                learn_quiet(s, f, quiets[i], -bonus);
    } else if (s->parameters.capture_history) {
        history_learn(capture_history(s->histories, &f->position, best), bonus);
    }
    if (s->parameters.capture_history)
        for (int i = 0; i < capture_count; i++)
            if (captures[i] != best)
                history_learn(capture_history(s->histories, &f->position, captures[i]), -bonus);
}

static void count_cutoff(Searcher *s, SearchPart part, bool by_first_move)
{
    s->cutoffs[part].all++;
    s->cutoffs[part].by_first_move += by_first_move;
}

/* ------------------------------------------------------------------------------------------- quiescence */

static bool table_cuts(const TableEntry *entry, int score, int alpha, int beta)
{
    return entry->bound == BOUND_EXACT || (entry->bound == BOUND_LOWER && score >= beta) ||
           (entry->bound == BOUND_UPPER && score <= alpha);
}

static int quiesce(Searcher *s, Frame *f, int alpha, int beta)
{
    const Position *p = &f->position;
    const bool pv = beta - alpha > 1;
    f->pv_length = 0;
    s->deepest = at_least(s->deepest, f->ply);
    if (must_stop(s) || is_draw(s, f))
        return SCORE_DRAW;
    if (f->ply >= MAX_PLY)
        return f->checkers ? SCORE_DRAW : searcher_static_score(s, p);

    TableEntry entry = {.move = NO_MOVE};
    bool known = table_probe(s->table, p->key, &entry);
    if (known && !pv) {
        int score = score_from_table(entry.score, f->ply);
        if (table_cuts(&entry, score, alpha, beta))
            return score;
    }
    int best = -SCORE_INFINITE, raw = SCORE_NONE, first_alpha = alpha;
    if (!f->checkers) {
        raw = known && entry.static_score != SCORE_NONE ? entry.static_score : evaluate(&s->evaluator, p);
        best = corrected(s, p, raw);
        if (known) {
            int score = score_from_table(entry.score, f->ply);
            if (table_cuts(&entry, score, best, best + 1) && !score_is_mate(score))
                best = score;
        }
        if (best >= beta)
            return best;
        alpha = at_least(alpha, best);
    }
    f->static_score = f->checkers ? SCORE_NONE : best;

    OrderingHints hints;
    Picker picker;
    CheckView checks = {.king = NO_SQUARE}; /* until a move is played */
    Move move, best_move = NO_MOVE;
    int played = 0;
    searcher_set_hints(s, f, entry.move, &hints);
    picker_start(&picker, p, s->histories, &hints, !f->checkers);
    while ((move = picker_next(&picker)) != NO_MOVE) {
        if (!f->checkers && s->parameters.delta_margin && !move_is_promotion(move)) {
            int reach =
                f->static_score + exchange_values[position_captured(p, move)] + s->parameters.delta_margin;
            if (reach <= alpha) {
                best = at_least(best, reach);
                continue;
            }
        }
        if (checks.king == NO_SQUARE)
            position_view_checks(p, &checks);
        played++;
        Frame *next = searcher_play(s, f, move, position_gives_check(p, &checks, move));
        int score = -quiesce(s, next, -beta, -alpha);
        if (s->stopped)
            return SCORE_DRAW;
        if (score <= best)
            continue;
        best = score;
        if (score <= alpha)
            continue;
        best_move = move;
        if (pv)
            frame_take_line(f, move);
        if (score >= beta) {
            count_cutoff(s, QUIESCENCE, played == 1);
            break;
        }
        alpha = score;
    }
    if (best == -SCORE_INFINITE)
        return -SCORE_MATE + f->ply;
    Bound bound = best >= beta ? BOUND_LOWER : best > first_alpha && pv ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, p->key, (TableEntry){best_move, score_to_table(best, f->ply), raw, 0, bound});
    return best;
}

/* ------------------------------------------------------------------------------------------- pruning a node
 */

static bool has_pieces(const Position *p, Side side)
{
    return (p->by_side[side] & ~(p->by_role[PAWN] | p->by_role[KING])) != 0;
}

/* If passing the move still holds beta, a real move will. False in what may be zugzwang. */
static bool null_move_cuts(Searcher *s, Frame *f, int estimate, int beta, int depth, bool expected_cut,
                           int *score)
{
    const Parameters *par = &s->parameters;
    if (!par->null_move || depth < 2 || estimate < beta || f->excluded || score_is_mate(beta) ||
        (f->ply > 0 && f[-1].role_square < 0) || !has_pieces(&f->position, position_turn(&f->position)))
        return false;
    int reduction = par->null_base + depth / par->null_divisor + at_most((estimate - beta) / 200, 3);
    Frame *next = play_null(s, f);
    *score = -search_node(s, next, -beta, -beta + 1, depth - reduction, !expected_cut);
    if (s->stopped || *score < beta)
        return false;
    if (score_is_mate(*score))
        *score = beta;
    return true;
}

/* What pruning of single moves looks at. */
typedef struct MoveContext {
    Move move;
    bool quiet, gives_check;
    int number;  /* 1 for the first move tried */
    int history; /* of a quiet move */
    int reduced; /* depth that would be left after reduction */
} MoveContext;

static bool prunes_move(Searcher *s, const Frame *f, const MoveContext *m, int alpha, int depth,
                        bool improving)
{
    const Parameters *par = &s->parameters;
    if (!m->quiet) {
        return par->exchange_capture && depth <= 6 && !m->gives_check &&
               !exchange_at_least(&f->position, m->move, -par->exchange_capture * depth);
    }
    if (m->gives_check)
        return false;
    if (par->late_base && depth <= par->late_depth) {
        int tried = (par->late_base + depth * depth) / (improving ? 1 : 2);
        if (m->number > tried)
            return true;
    }
    int left = at_least(m->reduced, 0);
    if (par->history_margin && left <= 4 && m->history < -par->history_margin * (left + 1))
        return true;
    if (par->futility_margin && left <= par->futility_depth && !f->checkers &&
        f->static_score + par->futility_base + par->futility_margin * left <= alpha)
        return true;
    return par->exchange_quiet && left <= 7 &&
           !exchange_at_least(&f->position, m->move, -par->exchange_quiet * left * left);
}

/* How many plies more (or less) the table's move deserves: if without it everything stays clearly below its
 * score, it is singular. Sets *cut if even without it beta holds. */
static int singular_extension(Searcher *s, Frame *f, const TableEntry *entry, Move move, int beta, int depth,
                              bool expected_cut, int *cut)
{
    const Parameters *par = &s->parameters;
    int table_score = score_from_table(entry->score, f->ply);
    if (!par->singular || depth < par->singular_depth || move != entry->move || f->excluded ||
        entry->depth < depth - 3 || (entry->bound != BOUND_LOWER && entry->bound != BOUND_EXACT) ||
        score_is_mate(table_score))
        return 0;
    int target = table_score - par->singular_margin * depth;
    f->excluded = move;
    int score = search_node(s, f, target - 1, target, (depth - 1) / 2, expected_cut);
    f->excluded = NO_MOVE;
    if (s->stopped)
        return 0;
    if (score < target)
        return 1;
    if (target >= beta)
        *cut = target;
    return table_score >= beta ? -par->singular_beta : expected_cut ? -par->singular_cut : 0;
}

/* ------------------------------------------------------------------------------------------- the node */

int search_node(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut)
{
    const Parameters *par = &s->parameters;
    const Position *p = &f->position;
    const bool pv = beta - alpha > 1;

    if (depth <= 0)
        return quiesce(s, f, alpha, beta);
    f->pv_length = 0;
    s->deepest = at_least(s->deepest, f->ply);
    if (must_stop(s) || is_draw(s, f))
        return SCORE_DRAW;
    if (f->ply >= MAX_PLY)
        return f->checkers ? SCORE_DRAW : searcher_static_score(s, p);
    /* No line from here can be better than a mate already found, or worse than being mated now. */
    alpha = at_least(alpha, -SCORE_MATE + f->ply);
    beta = at_most(beta, SCORE_MATE - f->ply - 1);
    if (alpha >= beta)
        return alpha;

    TableEntry entry = {.move = NO_MOVE, .bound = BOUND_NONE};
    bool known = !f->excluded && table_probe(s->table, p->key, &entry);
    int table_score = known ? score_from_table(entry.score, f->ply) : SCORE_NONE;
    if (known && !pv && entry.depth >= depth && p->halfmoves < 90 &&
        table_cuts(&entry, table_score, alpha, beta))
        return table_score;

    /* raw goes into the table, the frame gets the corrected score, and what the table knows makes the
     * estimate. */
    int raw = SCORE_NONE, estimate = SCORE_NONE;
    if (f->checkers) {
        f->static_score = SCORE_NONE;
    } else if (!f->excluded) {
        raw = known && entry.static_score != SCORE_NONE ? entry.static_score : evaluate(&s->evaluator, p);
        f->static_score = estimate = corrected(s, p, raw);
        if (known && !score_is_mate(table_score) && table_cuts(&entry, table_score, estimate, estimate + 1))
            estimate = table_score;
    }
    bool improving = par->improving && !f->checkers && f->ply >= 2 && f[-2].static_score != SCORE_NONE &&
                     f->static_score > f[-2].static_score;
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;
    f[2].cutoffs = 0;

    if (!pv && !f->checkers && !f->excluded) {
        int score;
        if (par->static_margin && depth <= par->static_depth && !score_is_mate(beta) &&
            estimate - par->static_margin * (depth - (int)improving) >= beta)
            return estimate;
        if (par->razor_margin && depth <= par->razor_depth && estimate + par->razor_margin * depth < alpha) {
            score = quiesce(s, f, alpha, alpha + 1);
            if (score <= alpha || s->stopped)
                return score;
        }
        if (null_move_cuts(s, f, estimate, beta, depth, expected_cut, &score))
            return score;
        if (s->stopped)
            return SCORE_DRAW;
    }
    if (par->internal_reduction && depth >= 4 && entry.move == NO_MOVE && !f->excluded &&
        (pv || expected_cut))
        depth--;

    enum { SHARED_DEPTH = 4 }; /* tuned: make bench */
    OrderingHints hints;
    Agenda agenda;
    Move move, best_move = NO_MOVE, quiets[64], captures[32];
    int quiet_count = 0, capture_count = 0, number = 0, best = -SCORE_INFINITE, first_alpha = alpha;
    searcher_set_hints(s, f, entry.move, &hints);
    picker_start(&agenda.picker, p, s->histories, &hints, false);
    agenda_start(&agenda, depth >= SHARED_DEPTH && !f->excluded ? s->busy : NULL, p, f->excluded);
    CheckView checks;
    position_view_checks(p, &checks);
    while ((move = agenda_next(&agenda, &number)) != NO_MOVE) {
        MoveContext m = {.move = move, .quiet = move_is_quiet(p, move), .number = number};
        m.history = m.quiet ? quiet_history(s->histories, p, &hints, move) : 0;
        int extension = 0, cut = -SCORE_INFINITE;
        if (number == 1 && known) {
            extension = singular_extension(s, f, &entry, move, beta, depth, expected_cut, &cut);
            if (s->stopped)
                return SCORE_DRAW;
            if (cut >= beta && !pv)
                return cut;
        }
        m.gives_check = position_gives_check(p, &checks, move);
        int reduction =
            s->reduction[at_most(depth, REDUCTION_TABLE - 1)][at_most(number, REDUCTION_TABLE - 1)];
        m.reduced = depth - 1 - reduction / 100;
        if (best > -SCORE_MATE_FLOOR && has_pieces(p, position_turn(p)) &&
            prunes_move(s, f, &m, alpha, depth, improving))
            continue;
        Frame *next = searcher_play(s, f, move, m.gives_check);
        if (m.gives_check && extension == 0 && par->check_extension && depth < 10 &&
            exchange_at_least(p, move, 0))
            extension = 1;
        int new_depth = depth - 1 + (f->ply < MAX_PLY / 2 || extension < 0 ? extension : 0);
        if (m.quiet && quiet_count < 64)
            quiets[quiet_count++] = move;
        else if (!m.quiet && capture_count < 32)
            captures[capture_count++] = move;

        agenda_begin(&agenda, move);
        int score = -SCORE_INFINITE;
        bool full = !pv || number > 1;
        if (par->reductions && depth >= 3 && number > 1 + (int)pv && (m.quiet || number > 4)) {
            if (m.quiet)
                reduction -= m.history * 100 / par->reduction_history;
            else
                reduction = reduction / 2;
            reduction -= 100 * (int)pv + 60 * (int)improving + 100 * (int)m.gives_check;
            reduction += 120 * (int)(expected_cut && !pv);
            if (next->cutoffs > 3)
                reduction += par->reduction_cutoffs;
            if (move == hints.killers[0] || move == hints.killers[1] || move == hints.counter)
                reduction -= 100;
            int reduced_depth = at_most(at_least(new_depth - at_least(reduction, 0) / 100, 1), new_depth);
            score = -search_node(s, next, -alpha - 1, -alpha, reduced_depth, true);
            full = score > alpha && reduced_depth < new_depth;
        }
        if (full && !s->stopped)
            score = -search_node(s, next, -alpha - 1, -alpha, new_depth, !expected_cut);
        if (pv && !s->stopped && (number == 1 || score > alpha))
            score = -search_node(s, next, -beta, -alpha, new_depth, false);
        agenda_end(&agenda, move);
        if (s->stopped)
            return SCORE_DRAW;

        if (score <= best)
            continue;
        best = score;
        if (score <= alpha)
            continue;
        best_move = move;
        if (pv)
            frame_take_line(f, move);
        if (score >= beta) {
            f->cutoffs++;
            count_cutoff(s, FULL_WIDTH, number == 1);
            learn_cutoff(s, f, move, quiets, quiet_count, captures, capture_count, depth);
            break;
        }
        alpha = score;
        if (par->alpha_reduction && depth > 2 && depth < 14 && !score_is_mate(score))
            depth -= par->alpha_reduction;
    }
    if (number == 0)
        return f->excluded ? alpha : f->checkers ? -SCORE_MATE + f->ply : SCORE_DRAW;
    if (f->excluded)
        return best;
    Bound bound = best >= beta ? BOUND_LOWER : best > first_alpha ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, p->key, (TableEntry){best_move, score_to_table(best, f->ply), raw, depth, bound});
    bool quiet_best = best_move == NO_MOVE || move_is_quiet(p, best_move);
    if (!f->checkers && quiet_best && !score_is_mate(best) &&
        !(bound == BOUND_LOWER && best <= f->static_score) &&
        !(bound == BOUND_UPPER && best >= f->static_score))
        correction_learn(s->corrections, par, p, best - f->static_score, depth);
    return best;
}
