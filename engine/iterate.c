#include "engine/iterate.h"

#include <string.h>

typedef struct Root {
    Searcher *s;
    const Watch *watch;
    int count;
    RootMove moves[MOVES_MAX];
} Root;

static bool is_wanted(const SearchLimits *limits, Move move)
{
    if (!limits->only)
        return true;
    for (int i = 0; i < limits->only->count; i++)
        if (limits->only->moves[i] == move)
            return true;
    return false;
}

static void list_root_moves(Root *root)
{
    MoveList list;
    movegen_all(&root->s->frames[0].position, &list);
    root->count = 0;
    for (int i = 0; i < list.count; i++)
        if (is_wanted(root->watch->limits, list.moves[i]))
            root->moves[root->count++] = (RootMove){.move = list.moves[i],
                                                    .score = -SCORE_INFINITE,
                                                    .last_score = -SCORE_INFINITE,
                                                    .length = 1,
                                                    .line = {list.moves[i]}};
}

/* Stable, so that moves with nothing new to say keep the order of earlier iterations. */
static void sort_root_moves(Root *root, int first)
{
    for (int i = first + 1; i < root->count; i++) {
        RootMove move = root->moves[i];
        int j = i;
        for (; j > first && root->moves[j - 1].score < move.score; j--)
            root->moves[j] = root->moves[j - 1];
        root->moves[j] = move;
    }
}

/* Searches all root moves from number `first` on, the first with the full window. */
static int search_root(Root *root, int first, int alpha, int beta, int depth)
{
    Searcher *s = root->s;
    Frame *f = &s->frames[0];
    int best = -SCORE_INFINITE;
    for (int i = first; i < root->count; i++)
        root->moves[i].score = -SCORE_INFINITE;
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;
    for (int i = first; i < root->count; i++) {
        RootMove *m = &root->moves[i];
        uint64_t before = s->nodes;
        bool quiet = move_is_quiet(&f->position, m->move);
        s->deepest = 0;
        Frame *next = searcher_play(s, f, m->move);
        int score = -SCORE_INFINITE;
        bool full = i == first;
        if (!full) {
            int number = i - first + 1, reduced = depth - 1;
            if (depth >= 3 && number > 3 && quiet && !next->checkers) {
                int reduction = s->reduction[depth < 64 ? depth : 63][number < 64 ? number : 63] / 100 - 1;
                reduced = reduction > 0 ? (depth - 1 - reduction > 1 ? depth - 1 - reduction : 1) : depth - 1;
            }
            score = -search_node(s, next, -alpha - 1, -alpha, reduced, true);
            if (!s->stopped && score > alpha && reduced < depth - 1)
                score = -search_node(s, next, -alpha - 1, -alpha, depth - 1, true);
            full = score > alpha;
        }
        if (full && !s->stopped)
            score = -search_node(s, next, -beta, -alpha, depth - 1, false);
        m->nodes += s->nodes - before;
        if (s->stopped)
            return best;
        if (i != first && score <= alpha)
            continue;
        m->score = score;
        m->deepest = s->deepest;
        frame_take_line(f, m->move);
        m->length = f->pv_length;
        memcpy(m->line, f->pv, (size_t)f->pv_length * sizeof *f->pv);
        if (score > best)
            best = score;
        if (score >= beta)
            break;
        if (score > alpha)
            alpha = score;
    }
    return best;
}

static void tell(Root *root, int index, int depth, Bound bound, SearchReport report, void *context,
                 SearchLine *line)
{
    const RootMove *m = &root->moves[index];
    int score = m->score == -SCORE_INFINITE ? m->last_score : m->score;
    if (score == -SCORE_INFINITE) /* stopped before the first move was through */
        score = root->s->frames[0].checkers ? SCORE_DRAW : root->s->frames[0].static_score;
    int64_t elapsed = root->watch->elapsed_us(root->watch->context);
    *line = (SearchLine){.rank = index + 1,
                         .depth = depth,
                         .deepest = m->deepest > depth ? m->deepest : depth,
                         .score = score,
                         .bound = bound,
                         .nodes = root->s->nodes,
                         .microseconds = elapsed < 0 ? 0 : elapsed,
                         .length = m->length};
    memcpy(line->moves, m->line, (size_t)m->length * sizeof *m->line);
    if (report) {
        line->table_permille = table_permille(root->s->table);
        report(context, &root->s->frames[0].position, line);
    }
}

/* Searches number `index` with a window round its last score, wider each time the score falls outside. */
static void aspire(Root *root, int index, int depth, SearchReport report, void *context)
{
    Searcher *s = root->s;
    int width = s->parameters.aspiration_window;
    int alpha = -SCORE_INFINITE, beta = SCORE_INFINITE, last = root->moves[index].last_score;
    if (depth >= 5 && !score_is_mate(last)) {
        alpha = last - width > -SCORE_INFINITE ? last - width : -SCORE_INFINITE;
        beta = last + width < SCORE_INFINITE ? last + width : SCORE_INFINITE;
    }
    for (;;) {
        int score = search_root(root, index, alpha, beta, depth);
        sort_root_moves(root, index);
        if (s->stopped)
            return;
        Bound bound = score <= alpha ? BOUND_UPPER : score >= beta ? BOUND_LOWER : BOUND_EXACT;
        if (bound == BOUND_EXACT)
            return;
        if (root->watch->elapsed_us(root->watch->context) > 1000000) {
            SearchLine line;
            tell(root, index, depth, bound, report, context, &line);
        }
        width *= 2;
        if (bound == BOUND_UPPER)
            alpha = width > 1000 || score - width < -SCORE_INFINITE ? -SCORE_INFINITE : score - width;
        else
            beta = width > 1000 || score + width > SCORE_INFINITE ? SCORE_INFINITE : score + width;
    }
}

/* The share of the soft limit to use, in percent: less while the choice stands and took most of the effort,
 * more when it has just changed or the score falls. */
static int time_share(const Root *root, int stable, int drop, uint64_t nodes)
{
    int effort = nodes ? (int)(root->moves[0].nodes * 100 / nodes) : 0;
    int share = 130 - 8 * (stable < 8 ? stable : 8);
    share = share * (150 - effort) / 100;
    share += drop > 60 ? 60 : drop > 0 ? drop : 0;
    return share < 25 ? 25 : share;
}

static bool enough(const Root *root, int depth, int stable, int drop)
{
    const SearchLimits *limits = root->watch->limits;
    const Searcher *s = root->s;
    int best = root->moves[0].score;
    if (s->stopped || (limits->depth && depth >= limits->depth) || depth >= MAX_PLY - 1)
        return true;
    if (limits->mate && best >= SCORE_MATE_FLOOR && score_mate_moves(best) <= limits->mate)
        return true;
    int64_t elapsed = root->watch->elapsed_us(root->watch->context);
    if (!limits->soft_ms || elapsed < 0)
        return false;
    if (root->count == 1 && !limits->only && depth >= 4)
        return true;
    return elapsed / 10 >= limits->soft_ms * time_share(root, stable, drop, s->nodes);
}

static void set_result(const Root *root, SearchResult *result)
{
    const RootMove *best = &root->moves[0];
    result->best = best->move;
    result->ponder = best->length > 1 ? best->line[1] : NO_MOVE;
}

void iterate(Searcher *s, const Watch *watch, SearchReport report, void *report_context, SearchResult *result)
{
    Root root = {.s = s, .watch = watch};
    int lines = watch->limits->lines > 1 ? watch->limits->lines : 1;
    int stable = 0, depth = 0, drop = 0;

    *result = (SearchResult){.best = NO_MOVE};
    s->stopped = false;
    s->nodes = s->cutoffs = s->first_move_cutoffs = 0;
    Frame *f = &s->frames[0];
    f->checkers = position_checkers(&f->position);
    f->ply = 0;
    f->reversible = f->position.halfmoves;
    f->excluded = f->killers[0] = f->killers[1] = NO_MOVE;
    f->static_score = f->checkers ? SCORE_NONE : searcher_static_score(s, &f->position);
    list_root_moves(&root);
    if (root.count == 0) {
        result->line.score = f->checkers ? -SCORE_MATE : SCORE_DRAW;
        return;
    }
    set_result(&root, result);
    lines = lines < root.count ? lines : root.count;
    while (!enough(&root, depth, stable, drop)) {
        Move before = root.moves[0].move;
        int before_score = root.moves[0].score;
        depth++;
        for (int i = 0; i < root.count; i++)
            root.moves[i].last_score = root.moves[i].score;
        for (int i = 0; i < lines && !s->stopped; i++)
            aspire(&root, i, depth, report, report_context);
        /* An unfinished iteration counts as far as it has found a better first move. */
        if (s->stopped && root.moves[0].score == -SCORE_INFINITE)
            for (int i = 0; i < root.count; i++)
                root.moves[i].score = root.moves[i].last_score;
        /* A later line may have come out better than an earlier one. */
        sort_root_moves(&root, 0);
        if (root.moves[0].move != before || depth == 1)
            result->nodes_to_choice = s->nodes;
        stable = root.moves[0].move == before ? stable + 1 : 0;
        drop = depth > 1 && before_score != -SCORE_INFINITE ? before_score - root.moves[0].score : 0;
        set_result(&root, result);
        if (!s->stopped)
            for (int i = 0; i < lines; i++) {
                SearchLine line;
                tell(&root, i, depth, BOUND_EXACT, report, report_context, &line);
                if (i == 0)
                    result->line = line;
            }
    }
    if (s->stopped && (result->line.length == 0 || result->line.moves[0] != result->best)) {
        SearchLine line;
        tell(&root, 0, depth, BOUND_LOWER, report, report_context, &line);
        result->line = line;
    }
    result->nodes = s->nodes;
    result->line.nodes = s->nodes;
    result->cutoffs = s->cutoffs;
    result->first_move_cutoffs = s->first_move_cutoffs;
}
