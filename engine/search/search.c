#include "engine/search/search.h"

#include "engine/search/exchange.h"

#include <assert.h>
#include <string.h>

/* 100 ln n, so that no floating point comes near the search. */
static const int16_t logarithm[REDUCTION_TABLE] = {
    0,   0,   69,  110, 139, 161, 179, 195, 208, 220, 230, 240, 248, 256, 264, 271,
    277, 283, 289, 294, 300, 304, 309, 314, 318, 322, 326, 330, 333, 337, 340, 343,
    347, 350, 353, 356, 358, 361, 364, 366, 369, 371, 374, 376, 378, 381, 383, 385,
    387, 389, 391, 393, 395, 397, 399, 401, 403, 404, 406, 408, 409, 411, 413, 414};

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
    f->history = NULL;
    next->position = f->position;
    position_play(&next->position, move);
    table_prefetch(s->table, table_key(&next->position));
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
    f->history = NULL;
    next->position = f->position;
    position_pass(&next->position);
    table_prefetch(s->table, table_key(&next->position));
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
    return score_without_mate(score);
}

int searcher_static_score(Searcher *s, const Position *position)
{
    return corrected(s, position, evaluate(&s->evaluator, position));
}

/* ------------------------------------------------------------------------------------------- histories */

void searcher_set_hints(const Searcher *s, const Frame *f, Move table_move, Threats *threats,
                        OrderingHints *hints)
{
    if (threats)
        view_threats(&f->position, threats);
    Side us = position_turn(&f->position);
    *hints = (OrderingHints){.table_move = table_move,
                             .killers = {f->killers[0], f->killers[1]},
                             .threats = threats,
                             .quiet = s->quiet,
                             .parameters = &s->parameters};
    for (int i = 0; i < CONTINUATIONS; i++) {
        const Frame *earlier = f - 1 - i;
        if (f->ply > i && earlier->role_square >= 0 && s->parameters.continuation)
            hints->pages[i] = s->histories->continuation[i][us][earlier->role_square];
    }
    if (s->parameters.pawn_history)
        hints->pages[CONTINUATIONS] = s->histories->pawns[us][f->position.pawn_key % PAWN_PAGES];
    if (f->ply > 0 && f[-1].role_square >= 0)
        hints->counter = s->histories->counter[f[-1].role_square];
}

/* `plain`: the history of the move itself learns, too, not only its pages. */
static void learn_quiet(const Position *p, const OrderingHints *hints, Move move, int bonus, bool plain)
{
    if (plain)
        history_learn(plain_history(p, hints, move), bonus);
    for (int i = 0; i < PAGES; i++)
        if (hints->pages[i])
            history_learn(&hints->pages[i][role_square(p, move)], bonus);
}

/* What has been tried at a node, the moves that were pruned left out. */
typedef struct Tried {
    int quiet_count, capture_count;
    Move quiets[64], captures[32];
} Tried;

static void note_tried(Tried *tried, Move move, bool quiet)
{
    if (quiet && tried->quiet_count < 64)
        tried->quiets[tried->quiet_count++] = move;
    else if (!quiet && tried->capture_count < 32)
        tried->captures[tried->capture_count++] = move;
}

/* The move that cut off gains, the moves of its kind tried before it lose. */
static void learn_cutoff(Searcher *s, Frame *f, const OrderingHints *hints, Move best, const Tried *tried,
                         int depth)
{
    const Parameters *par = &s->parameters;
    const Position *p = &f->position;
    int bonus = at_most(par->bonus_slope * depth - par->bonus_base, par->bonus_most);
    int malus = at_most(par->malus_slope * depth - par->malus_base, par->malus_most);
    if (move_is_quiet(p, best)) {
        bool plain = !s->shared || depth >= TAUGHT_DEPTH;
        if (f->killers[0] != best) {
            f->killers[1] = f->killers[0];
            f->killers[0] = best;
        }
        if (f->ply > 0 && f[-1].role_square >= 0)
            s->histories->counter[f[-1].role_square] = best;
        learn_quiet(p, hints, best, bonus, plain);
        for (int i = 0; i < tried->quiet_count; i++)
            if (tried->quiets[i] != best)
                learn_quiet(p, hints, tried->quiets[i], -malus, plain);
    } else if (par->capture_history) {
        history_learn(capture_history(s->histories, p, best), bonus);
    }
    if (par->capture_history)
        for (int i = 0; i < tried->capture_count; i++)
            if (tried->captures[i] != best)
                history_learn(capture_history(s->histories, p, tried->captures[i]), -malus);
}

/* A move that has raised the static score of its side gains, one that has lowered it loses. The frame, behind
 * that move, has a static score. */
static void learn_static_change(const Searcher *s, const Frame *f)
{
    const Frame *before = f - 1;
    if (!before->history || before->static_score == SCORE_NONE)
        return;
    int most = s->parameters.static_most;
    int bonus = -(f->static_score + before->static_score) * s->parameters.static_bonus / 10;
    if (s->shared && bonus > -TAUGHT_CHANGE && bonus < TAUGHT_CHANGE)
        return;
    history_learn(before->history, clamp(bonus, -most, most));
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
    bool known = table_probe(s->table, table_key(p), &entry);
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
    Threats threats;
    CheckView checks = {.king = NO_SQUARE}; /* until a move is played */
    Move move, best_move = NO_MOVE;
    int played = 0;
    searcher_set_hints(s, f, entry.move, f->checkers ? &threats : NULL, &hints);
    picker_start(&picker, p, s->histories, &hints, !f->checkers);
    while ((move = picker_next(&picker)) != NO_MOVE) {
        if (!f->checkers && s->parameters.delta_margin && !move_is_promotion(move)) {
            int reach =
                f->static_score + exchange_value(position_captured(p, move)) + s->parameters.delta_margin;
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
        return score_mated_at(f->ply);
    Bound bound = best >= beta ? BOUND_LOWER : best > first_alpha && pv ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, table_key(p), (TableEntry){best_move, score_to_table(best, f->ply), raw, 0, bound});
    return best;
}

/* ------------------------------------------------------------------------------------------- pruning a node
 */

/* A node on its way through the search; alpha and depth change on it. */
typedef struct Node {
    Frame *f;
    int alpha, beta, depth;
    bool pv, expected_cut;
    bool known; /* to the transposition table, as entry */
    TableEntry entry;
    int raw;      /* static score, as it goes into the table; SCORE_NONE in check */
    int estimate; /* that, corrected and improved by what the table knows */
    bool improving;
    int extension; /* of the table's move, in plies */
    OrderingHints hints;
    CheckView checks;
    Threats threats;
} Node;

static bool has_pieces(const Position *p, Side side)
{
    return (p->by_side[side] & ~(p->by_role[PAWN] | p->by_role[KING])) != 0;
}

/* If passing the move still holds beta, a real move will. False in what may be zugzwang. */
static bool null_move_cuts(Searcher *s, const Node *n, int *score)
{
    const Parameters *par = &s->parameters;
    Frame *f = n->f;
    int above = n->estimate - n->beta;
    if (!par->null_move || n->depth < 2 || above < 0 || score_is_mate(n->beta) ||
        (f->ply > 0 && f[-1].role_square < 0) || !has_pieces(&f->position, position_turn(&f->position)))
        return false;
    int reduction =
        (par->null_base + 100 * n->depth / par->null_divisor + at_most(100 * above / par->null_margin, 300)) /
        100;
    Frame *next = play_null(s, f);
    *score = -search_node(s, next, -n->beta, -n->beta + 1, n->depth - reduction, !n->expected_cut);
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
    if (par->static_margin && n->depth <= par->static_depth && !score_is_mate(n->beta) &&
        n->estimate - par->static_margin * (n->depth - n->improving) >= n->beta)
        return true;
    if (par->razor_margin && n->depth <= par->razor_depth &&
        n->estimate + par->razor_margin * n->depth < n->alpha) {
        *score = quiesce(s, n->f, n->alpha, n->alpha + 1);
        if (*score <= n->alpha || s->stopped)
            return true;
    }
    return null_move_cuts(s, n, score);
}

/* How many plies more (or less) the table's move deserves: if without it everything stays clearly below its
 * score, it is singular. Sets *cut if even without it beta holds. */
static int singular_extension(Searcher *s, const Node *n, int *cut)
{
    const Parameters *par = &s->parameters;
    const TableEntry *entry = &n->entry;
    Frame *f = n->f;
    int table_score = score_from_table(entry->score, f->ply);
    if (!par->singular || !n->known || n->depth < par->singular_depth || entry->depth < n->depth - 3 ||
        (entry->bound != BOUND_LOWER && entry->bound != BOUND_EXACT) || score_is_mate(table_score) ||
        !movegen_is_legal(&f->position, entry->move))
        return 0;
    int target = table_score - par->singular_margin * n->depth / 16;
    f->excluded = entry->move;
    int score = search_node(s, f, target - 1, target, (n->depth - 1) / 2, n->expected_cut);
    f->excluded = NO_MOVE;
    if (score < target)
        return 1;
    if (target >= n->beta)
        *cut = target;
    return table_score >= n->beta ? -par->singular_beta : n->expected_cut ? -par->singular_cut : 0;
}

/* ------------------------------------------------------------------------------------------- single moves */

/* What pruning and reduction of a move look at. */
typedef struct MoveContext {
    Move move;
    bool quiet, gives_check;
    int number;    /* 1 for the first move tried */
    int history;   /* of a quiet move */
    int reduction; /* by depth and number, in hundredths of a ply */
} MoveContext;

static void look_at_move(const Searcher *s, const Node *n, Move move, int number, MoveContext *m)
{
    const Position *p = &n->f->position;
    int row = at_most(n->depth, REDUCTION_TABLE - 1), column = at_most(number, REDUCTION_TABLE - 1);
    *m = (MoveContext){.move = move,
                       .quiet = move_is_quiet(p, move),
                       .gives_check = position_gives_check(p, &n->checks, move),
                       .number = number,
                       .reduction = s->reduction[row][column]};
    if (m->quiet)
        m->history = quiet_history(p, &n->hints, move);
}

static bool prunes_move(const Searcher *s, const Node *n, const MoveContext *m)
{
    const Parameters *par = &s->parameters;
    const Frame *f = n->f;
    if (!m->quiet) {
        return par->exchange_capture && n->depth <= 6 && !m->gives_check &&
               !exchange_at_least(&f->position, m->move, -par->exchange_capture * n->depth);
    }
    if (m->gives_check)
        return false;
    if (par->late_base && n->depth <= par->late_depth) {
        int tried = (par->late_base + n->depth * n->depth) / (n->improving ? 1 : 2);
        if (m->number > tried)
            return true;
    }
    int left = at_least(n->depth - 1 - m->reduction / 100, 0);
    if (par->history_margin && left <= 4 && m->history < -par->history_margin * (left + 1))
        return true;
    if (par->futility_margin && left <= par->futility_depth && !f->checkers &&
        f->static_score + par->futility_base + par->futility_margin * left <= n->alpha)
        return true;
    return par->exchange_quiet && left <= 7 &&
           !exchange_at_least(&f->position, m->move, -par->exchange_quiet * left * left);
}

/* The depth at which a late move is tried first: `full` less what speaks against it. */
static int reduced_depth(const Searcher *s, const Node *n, const MoveContext *m, const Frame *next, int full)
{
    const Parameters *par = &s->parameters;
    const OrderingHints *hints = &n->hints;
    int reduction = m->quiet ? m->reduction - m->history * 100 / par->reduction_history : m->reduction / 2;
    if (n->pv)
        reduction -= par->reduction_pv;
    else if (n->expected_cut)
        reduction += par->reduction_cut;
    if (n->improving)
        reduction -= par->reduction_improving;
    if (m->gives_check)
        reduction -= par->reduction_check;
    if (next->cutoffs > 3)
        reduction += par->reduction_cutoffs;
    if (m->move == hints->killers[0] || m->move == hints->killers[1] || m->move == hints->counter)
        reduction -= par->reduction_killer;
    return at_most(at_least(full - at_least(reduction, 0) / 100, 1), full);
}

/* The score of a move that has been played: late ones are tried less deep, all but the first of a principal
 * variation with the narrowest window, and once more if they turn out better than that. */
static int search_move(Searcher *s, const Node *n, const MoveContext *m, Frame *next, int depth)
{
    const int alpha = n->alpha;
    int score = -SCORE_INFINITE;
    bool full = !n->pv || m->number > 1;
    if (s->parameters.reductions && n->depth >= 3 && m->number > 1 + n->pv && (m->quiet || m->number > 4)) {
        int reduced = reduced_depth(s, n, m, next, depth);
        score = -search_node(s, next, -alpha - 1, -alpha, reduced, true);
        full = score > alpha && reduced < depth;
    }
    if (full && !s->stopped)
        score = -search_node(s, next, -alpha - 1, -alpha, depth, !n->expected_cut);
    if (n->pv && !s->stopped && (m->number == 1 || score > alpha))
        score = -search_node(s, next, -n->beta, -alpha, depth, false);
    return score;
}

/* ------------------------------------------------------------------------------------------- the node */

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
    n->hints.checks = &n->checks;
    picker_start(&agenda.picker, p, s->histories, &n->hints, false);
    agenda_start(&agenda, n->depth >= SHARED_DEPTH ? s->shared : NULL, p, f->excluded);
    while ((move = agenda_next(&agenda, &number)) != NO_MOVE) {
        int extension = move == n->entry.move ? n->extension : 0;
        look_at_move(s, n, move, number, &m);
        if (!score_is_loss(best) && has_pieces(p, position_turn(p)) && prunes_move(s, n, &m))
            continue;
        int refuted;
        if (number > 1 && agenda_is_refuted(&agenda, move, n->depth, &refuted) && refuted <= n->alpha) {
            note_tried(&tried, move, m.quiet);
            best = at_least(best, refuted);
            continue;
        }
        Frame *next = searcher_play(s, f, move, m.gives_check);
        if (m.gives_check && extension == 0 && par->check_extension && n->depth < 10 &&
            exchange_at_least(p, move, 0))
            extension = 1;
        if (f->ply >= MAX_PLY / 2)
            extension = at_most(extension, 0);
        note_tried(&tried, move, m.quiet);
        f->history = m.quiet && !f->excluded ? plain_history(p, &n->hints, move) : NULL;
        agenda_begin(&agenda, move);
        int score = search_move(s, n, &m, next, n->depth - 1 + extension);
        agenda_end(&agenda, move);
        if (s->stopped)
            return SCORE_DRAW;

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
            f->cutoffs++;
            count_cutoff(s, FULL_WIDTH, number == 1);
            learn_cutoff(s, f, &n->hints, move, &tried, n->depth);
            break;
        }
        n->alpha = score;
        if (par->alpha_reduction && n->depth > 2 && n->depth < 14 && !score_is_mate(score))
            n->depth -= par->alpha_reduction;
    }
    return best;
}

/* What the search has found goes into the table and, where the static score was wrong, into the corrections.
 */
static void keep(Searcher *s, const Node *n, int best, Move best_move, int first_alpha)
{
    const Frame *f = n->f;
    const Position *p = &f->position;
    Bound bound = best >= n->beta ? BOUND_LOWER : best > first_alpha ? BOUND_EXACT : BOUND_UPPER;
    table_store(s->table, table_key(p),
                (TableEntry){best_move, score_to_table(best, f->ply), n->raw, n->depth, bound});
    bool quiet_best = best_move == NO_MOVE || move_is_quiet(p, best_move);
    if (!f->checkers && quiet_best && !score_is_mate(best) && !position_nears_fifty_moves(p) &&
        !(bound == BOUND_LOWER && best <= f->static_score) &&
        !(bound == BOUND_UPPER && best >= f->static_score))
        correction_learn(s->corrections, &s->parameters, p, best - f->static_score, n->depth);
}

int search_node(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut)
{
    const Position *p = &f->position;
    if (depth <= 0)
        return quiesce(s, f, alpha, beta);
    f->pv_length = 0;
    s->deepest = at_least(s->deepest, f->ply);
    if (must_stop(s) || is_draw(s, f))
        return SCORE_DRAW;
    if (f->ply >= MAX_PLY)
        return f->checkers ? SCORE_DRAW : searcher_static_score(s, p);
    /* No line from here can be better than a mate already found, or worse than being mated now. */
    alpha = at_least(alpha, score_mated_at(f->ply));
    beta = at_most(beta, SCORE_MATE - f->ply - 1);
    if (alpha >= beta)
        return alpha;

    Node n = {.f = f,
              .alpha = alpha,
              .beta = beta,
              .depth = depth,
              .pv = beta - alpha > 1,
              .expected_cut = expected_cut,
              .entry = {.move = NO_MOVE},
              .raw = SCORE_NONE,
              .estimate = SCORE_NONE};
    n.known = !f->excluded && table_probe(s->table, table_key(p), &n.entry);
    int table_score = n.known ? score_from_table(n.entry.score, f->ply) : SCORE_NONE;
    if (n.known && !n.pv && n.entry.depth >= depth && table_cuts(&n.entry, table_score, alpha, beta))
        return table_score;

    if (f->checkers) {
        f->static_score = SCORE_NONE;
    } else if (!f->excluded) {
        bool stored = n.known && n.entry.static_score != SCORE_NONE;
        n.raw = stored ? n.entry.static_score : evaluate(&s->evaluator, p);
        f->static_score = n.estimate = corrected(s, p, n.raw);
        if (n.known && !score_is_mate(table_score) &&
            table_cuts(&n.entry, table_score, n.estimate, n.estimate + 1))
            n.estimate = table_score;
        learn_static_change(s, f);
    }
    n.improving = s->parameters.improving && !f->checkers && f->ply >= 2 &&
                  f[-2].static_score != SCORE_NONE && f->static_score > f[-2].static_score;
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;
    f[2].cutoffs = 0;

    int score;
    bool pruned = prunes_node(s, &n, &score);
    if (pruned || s->stopped)
        return pruned ? score : SCORE_DRAW;
    if (s->parameters.internal_reduction && depth >= 4 && n.entry.move == NO_MOVE && !f->excluded &&
        (n.pv || expected_cut))
        n.depth--;
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
