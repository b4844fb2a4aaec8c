#include "engine/search/iterate.h"

#include "engine/search/clock.h"

#include <string.h>

typedef struct Root {
    Searcher *s;
    const Watch *watch;
    const SearchListener *listener; /* null for a helper */
    int depth;                      /* of the iteration */
    int count;
    RootMove moves[MOVES_MAX];
} Root;

/* Another worker has finished this iteration. */
static bool is_outrun(const Root *root)
{
    Race *race = root->watch->race;
    return race && atomic_load_explicit(&race->depth, memory_order_relaxed) >= root->depth;
}

static bool should_stop(void *context)
{
    const Root *root = context;
    return root->watch->should_stop(root->watch->context) || is_outrun(root);
}

static void hand_over(const Root *root)
{
    Race *race = root->watch->race;
    if (!race)
        return;
    pthread_mutex_lock(&race->lock);
    if (race->depth < root->depth) {
        memcpy(race->moves, root->moves, (size_t)root->count * sizeof *root->moves);
        atomic_store_explicit(&race->depth, root->depth, memory_order_relaxed);
    }
    pthread_mutex_unlock(&race->lock);
}

static void take_over(Root *root)
{
    Race *race = root->watch->race;
    pthread_mutex_lock(&race->lock);
    memcpy(root->moves, race->moves, (size_t)root->count * sizeof *root->moves);
    root->depth = race->depth;
    pthread_mutex_unlock(&race->lock);
}

static bool is_wanted(const SearchLimits *limits, Move move)
{
    if (!limits->only)
        return true;
    for (int i = 0; i < limits->only->count; i++)
        if (limits->only->moves[i] == move)
            return true;
    return false;
}

/* In the order of any other node, so that there is a sensible move from the beginning. */
static void list_root_moves(Root *root)
{
    const Searcher *s = root->s;
    const Frame *f = &s->frames[0];
    const Position *p = &f->position;
    TableEntry entry = {.move = NO_MOVE};
    OrderingHints hints;
    Threats threats;
    Picker picker;
    Move move;
    root->count = 0;
    table_probe(s->table, table_key(p), &entry);
    searcher_set_hints(s, f, entry.move, &threats, &hints);
    picker_start(&picker, p, s->histories, &hints, false);
    while ((move = picker_next(&picker)) != NO_MOVE)
        if (is_wanted(root->watch->limits, move))
            root->moves[root->count++] = (RootMove){.move = move,
                                                    .score = -SCORE_INFINITE,
                                                    .last_score = -SCORE_INFINITE,
                                                    .bound = BOUND_EXACT,
                                                    .length = 1,
                                                    .line = {move}};
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

/* What would only flood the client in the first second is not said in it. */
static bool is_late(const Root *root)
{
    return root->listener && clock_now_us() - root->watch->start_us > 1000000;
}

static void tell_step(const Root *root, int index, int depth)
{
    if (is_late(root) && root->listener->step)
        root->listener->step(root->listener->context, &root->s->frames[0].position,
                             &(SearchStep){depth, root->moves[index].move, index + 1});
}

/* The root moves from number `first` on in the order in which a worker searches them: what another is at
 * comes last, as in any other node. */
typedef struct RootAgenda {
    Agenda agenda;
    int next, again; /* the next one; the next of those put off, behind the last */
    bool put_off[MOVES_MAX];
} RootAgenda;

static void root_agenda_start(const Root *root, int first, int depth, RootAgenda *r)
{
    Searcher *s = root->s;
    *r = (RootAgenda){.next = first, .again = first};
    agenda_start(&r->agenda, depth >= SHARED_DEPTH ? s->shared : NULL, &s->frames[0].position, NO_MOVE);
}

/* -1 behind the last. */
static int root_agenda_next(const Root *root, int first, RootAgenda *r)
{
    for (; r->next < root->count; r->next++) {
        bool busy = r->next > first && agenda_is_busy(&r->agenda, root->moves[r->next].move);
        r->put_off[r->next] = busy;
        if (!busy)
            return r->next++;
    }
    for (; r->again < root->count; r->again++)
        if (r->put_off[r->again])
            return r->again++;
    return -1;
}

/* Searches all root moves from number `first` on, the first with the full window. */
static int search_root(Root *root, int first, int alpha, int beta, int depth)
{
    Searcher *s = root->s;
    Frame *f = &s->frames[0];
    int best = -SCORE_INFINITE;
    CheckView checks;
    position_view_checks(&f->position, &checks);
    for (int i = first; i < root->count; i++)
        root->moves[i].score = -SCORE_INFINITE;
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;
    f[1].cutoffs = f[2].cutoffs = 0;
    RootAgenda agenda;
    root_agenda_start(root, first, depth, &agenda);
    for (int i; (i = root_agenda_next(root, first, &agenda)) >= 0;) {
        RootMove *m = &root->moves[i];
        agenda_begin(&agenda.agenda, m->move);
        tell_step(root, i, depth);
        uint64_t before = s->nodes;
        bool quiet = move_is_quiet(&f->position, m->move);
        s->deepest = 0;
        Frame *next = searcher_play(s, f, m->move, position_gives_check(&f->position, &checks, m->move));
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
        agenda_end(&agenda.agenda, m->move);
        m->nodes += s->nodes - before;
        if (s->stopped)
            return best;
        if (i != first && score <= alpha)
            continue;
        m->score = score;
        m->depth = root->depth;
        m->bound = score <= alpha ? BOUND_UPPER : score >= beta ? BOUND_LOWER : BOUND_EXACT;
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

/* Goes on behind a line with the moves of the table, until a position comes again. */
static void extend_line(const Searcher *s, SearchLine *line)
{
    uint64_t keys[MAX_PLY + 1];
    Position p = s->frames[0].position;
    TableEntry entry;
    for (int i = 0;; i++) {
        keys[i] = p.key;
        if (i >= line->length) {
            for (int j = i - 4; j >= 0; j -= 2)
                if (keys[j] == p.key)
                    return;
            if (i >= MAX_PLY || p.halfmoves >= 100 || position_material_is_dead(&p) ||
                !table_probe(s->table, table_key(&p), &entry) || !movegen_is_legal(&p, entry.move))
                return;
            line->moves[line->length++] = entry.move;
        }
        position_play(&p, line->moves[i]);
    }
}

/* Of a move that no search has looked at yet, the static score is told, as one of depth 0. */
static void tell(const Root *root, int index, SearchLine *line)
{
    const RootMove *m = &root->moves[index];
    const Frame *f = &root->s->frames[0];
    int score = m->score == -SCORE_INFINITE ? m->last_score : m->score;
    if (m->depth == 0)
        score = f->checkers ? SCORE_DRAW : f->static_score;
    *line = (SearchLine){.rank = index + 1,
                         .depth = m->depth,
                         .deepest = m->deepest > m->depth ? m->deepest : m->depth,
                         .score = score,
                         .bound = m->bound,
                         .length = m->length};
    memcpy(line->moves, m->line, (size_t)m->length * sizeof *m->line);
    extend_line(root->s, line);
    line->nodes = root->s->nodes;
    line->microseconds = clock_now_us() - root->watch->start_us;
    if (root->listener->line) {
        line->table_permille = table_permille(root->s->table);
        root->listener->line(root->listener->context, &root->s->frames[0].position, line);
    }
}

/* Searches number `index` with a window round its last score, wider each time the score falls outside. What
 * comes out above it is looked at again a ply less deep, if the parameters say so. */
static void aspire(Root *root, int index, int depth)
{
    Searcher *s = root->s;
    int width = s->parameters.aspiration_window;
    int alpha = -SCORE_INFINITE, beta = SCORE_INFINITE, last = root->moves[index].last_score;
    int less = 0;
    if (depth >= 5 && !score_is_mate(last)) {
        alpha = last - width > -SCORE_INFINITE ? last - width : -SCORE_INFINITE;
        beta = last + width < SCORE_INFINITE ? last + width : SCORE_INFINITE;
    }
    for (;;) {
        int score = search_root(root, index, alpha, beta, depth > less ? depth - less : 1);
        sort_root_moves(root, index);
        if (s->stopped)
            return;
        Bound bound = root->moves[index].bound;
        if (bound == BOUND_EXACT)
            return;
        if (is_late(root)) {
            SearchLine line;
            tell(root, index, &line);
        }
        width *= 2;
        if (bound == BOUND_UPPER) {
            if (s->parameters.aspiration_reduction)
                beta = (alpha + beta) / 2;
            alpha = width > 1000 || score - width < -SCORE_INFINITE ? -SCORE_INFINITE : score - width;
            less = 0;
        } else {
            beta = width > 1000 || score + width > SCORE_INFINITE ? SCORE_INFINITE : score + width;
            root->moves[index].last_score = score; /* stays first if the time ends now */
            less += s->parameters.aspiration_reduction;
        }
    }
}

/* The share of the soft limit to use, in percent: less while the choice stands and took most of the effort,
 * more when it has just changed or the score falls. */
static int time_share(const Root *root, int stable, int drop)
{
    uint64_t nodes = 0;
    for (int i = 0; i < root->count; i++)
        nodes += root->moves[i].nodes;
    int effort = nodes ? (int)(root->moves[0].nodes * 100 / nodes) : 0;
    int share = 130 - 8 * (stable < 8 ? stable : 8);
    share = share * (150 - effort) / 100;
    share += drop > 60 ? 60 : drop > 0 ? drop : 0;
    return share < 25 ? 25 : share;
}

static bool enough(const Root *root, int stable, int drop)
{
    int depth = root->depth;
    const SearchLimits *limits = root->watch->limits;
    const Searcher *s = root->s;
    int best = root->moves[0].score;
    if (s->stopped || (limits->depth && depth >= limits->depth) || depth >= MAX_PLY - 1)
        return true;
    if (limits->mate && best >= SCORE_MATE_FLOOR && score_mate_moves(best) <= limits->mate)
        return true;
    if (!limits->soft_ms)
        return false;
    int64_t spent = root->watch->spent_us(root->watch->context);
    if (spent < 0)
        return false;
    if (root->count == 1 && !limits->only && depth >= 4)
        return true;
    return spent / 10 >= limits->soft_ms * time_share(root, stable, drop);
}

static void set_result(const Root *root, SearchResult *result)
{
    const RootMove *best = &root->moves[0];
    result->best = best->move;
    result->ponder = best->length > 1 ? best->line[1] : NO_MOVE;
}

/* Searches all moves to one depth, or lets another worker do it. */
static void search_iteration(Root *root, int lines)
{
    Searcher *s = root->s;
    for (int i = 0; i < root->count; i++)
        root->moves[i].last_score = root->moves[i].score;
    for (int i = 0; i < lines && !s->stopped; i++)
        aspire(root, i, root->depth);
    if (is_outrun(root)) {
        take_over(root);
        s->stopped = false;
        return;
    }
    /* An unfinished iteration counts as far as it got. */
    for (int i = 0; s->stopped && i < root->count; i++)
        if (root->moves[i].score == -SCORE_INFINITE)
            root->moves[i].score = root->moves[i].last_score;
    /* A later line may have come out better than an earlier one. */
    sort_root_moves(root, 0);
    if (!s->stopped)
        hand_over(root);
}

void iterate(Searcher *s, const Watch *watch, const SearchListener *listener, SearchResult *result)
{
    Root root = {.s = s, .watch = watch, .listener = listener};
    int lines = watch->limits->lines > 1 ? watch->limits->lines : 1;
    int stable = 0, drop = 0;

    *result = (SearchResult){.best = NO_MOVE};
    s->should_stop = should_stop;
    s->context = &root;
    s->stopped = false;
    s->nodes = 0;
    memset(s->cutoffs, 0, sizeof s->cutoffs);
    /* Quiescence looks at killers that no node before it has set. */
    for (size_t i = 0; i < sizeof s->frames / sizeof *s->frames; i++)
        s->frames[i].killers[0] = s->frames[i].killers[1] = NO_MOVE;
    Frame *f = &s->frames[0];
    f->checkers = position_checkers(&f->position);
    f->ply = 0;
    f->reversible = f->position.halfmoves;
    f->static_score = f->checkers ? SCORE_NONE : searcher_static_score(s, &f->position);
    list_root_moves(&root);
    if (root.count == 0) {
        result->line.score = f->checkers ? -SCORE_MATE : SCORE_DRAW;
        return;
    }
    set_result(&root, result);
    lines = lines < root.count ? lines : root.count;
    while (!enough(&root, stable, drop)) {
        Move before = root.moves[0].move;
        int before_score = root.moves[0].score;
        root.depth++;
        search_iteration(&root, lines);
        if (root.moves[0].move != before || root.depth == 1)
            result->nodes_to_choice = s->nodes;
        stable = root.moves[0].move == before ? stable + 1 : 0;
        drop = root.depth > 1 && before_score != -SCORE_INFINITE ? before_score - root.moves[0].score : 0;
        set_result(&root, result);
        for (int i = 0; listener && i < lines; i++) {
            SearchLine line;
            tell(&root, i, &line);
            if (i == 0)
                result->line = line;
        }
    }
    if (result->ponder == NO_MOVE && result->line.length > 1)
        result->ponder = result->line.moves[1];
    result->nodes = s->nodes;
    memcpy(result->cutoffs, s->cutoffs, sizeof s->cutoffs);
}
