#include "engine/search/root_moves.h"

#include "engine/search/pruning.h"
#include "engine/search/search.h"

#include <string.h>

void root_moves_list(RootMoves *root, const Searcher *s, const MoveList *only)
{
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
        if (!only || move_list_has(only, move))
            root->list[root->count++] = (RootMove){.move = move,
                                                   .score = -SCORE_INFINITE,
                                                   .last_score = -SCORE_INFINITE,
                                                   .bound = BOUND_EXACT,
                                                   .length = 1,
                                                   .line = {move}};
}

void root_moves_sort(RootMoves *root, int first)
{
    for (int i = first + 1; i < root->count; i++) {
        RootMove move = root->list[i];
        int j = i;
        for (; j > first && root->list[j - 1].score < move.score; j--)
            root->list[j] = root->list[j - 1];
        root->list[j] = move;
    }
}

/* The root moves from number `first` on in the order in which a worker searches them: what another is at
 * comes last, as in any other node. */
typedef struct RootAgenda {
    Agenda agenda;
    int next, again; /* the next one; the next of those put off, behind the last */
    bool put_off[MOVES_MAX];
} RootAgenda;

static void root_agenda_start(Searcher *s, const RootTask *task, RootAgenda *r)
{
    *r = (RootAgenda){.next = task->first, .again = task->first};
    agenda_start(&r->agenda, task->depth >= SHARED_DEPTH ? s->shared : NULL, &s->frames[0].position, NO_MOVE);
}

/* -1 behind the last. */
static int root_agenda_next(const RootMoves *root, const RootTask *task, RootAgenda *r)
{
    for (; r->next < task->end; r->next++) {
        bool busy = r->next > task->first && agenda_is_busy(&r->agenda, root->list[r->next].move);
        r->put_off[r->next] = busy;
        if (!busy)
            return r->next++;
    }
    for (; r->again < task->end; r->again++)
        if (r->put_off[r->again])
            return r->again++;
    return -1;
}

static int search_below(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut)
{
    NodeSearch *search = s->probe ? s->probe->search : search_node;
    return search(s, f, alpha, beta, depth, expected_cut);
}

/* The score of a root move that has been played: all but the first are tried with the narrowest window, late
 * ones less deep. */
static int search_root_move(Searcher *s, Frame *next, const RootTask *task, int alpha, int number, bool quiet)
{
    int score = -SCORE_INFINITE, depth = task->depth - 1;
    bool full = number == 1;
    if (!full) {
        bool late = quiet && !next->checkers;
        int reduced = late ? reduced_root_depth(task->depth, number) : depth;
        score = -search_below(s, next, -alpha - 1, -alpha, reduced, true);
        if (!s->stopped && score > alpha && reduced < depth)
            score = -search_below(s, next, -alpha - 1, -alpha, depth, true);
        full = score > alpha;
    }
    return full && !s->stopped ? -search_below(s, next, -task->beta, -alpha, depth, false) : score;
}

static void note(RootMove *m, Searcher *s, const RootTask *task, int alpha, int score)
{
    Frame *f = &s->frames[0];
    m->score = score;
    m->depth = task->iteration;
    m->bound = score <= alpha ? BOUND_UPPER : score >= task->beta ? BOUND_LOWER : BOUND_EXACT;
    m->deepest = s->deepest;
    frame_take_line(f, m->move);
    m->length = f->pv_length;
    memcpy(m->line, f->pv, (size_t)f->pv_length * sizeof *f->pv);
}

int root_moves_search(RootMoves *root, Searcher *s, const RootTask *task)
{
    Frame *f = &s->frames[0];
    int best = -SCORE_INFINITE, alpha = task->alpha, first = task->first;
    CheckView checks;
    position_view_checks(&f->position, &checks);
    for (int i = first; i < task->end; i++)
        root->list[i].score = -SCORE_INFINITE;
    f[1].killers[0] = f[1].killers[1] = NO_MOVE;
    RootAgenda agenda;
    root_agenda_start(s, task, &agenda);
    for (int i; (i = root_agenda_next(root, task, &agenda)) >= 0;) {
        RootMove *m = &root->list[i];
        agenda_begin(&agenda.agenda, m->move);
        task->step(task->context, i, task->depth);
        uint64_t before = s->nodes;
        bool quiet = move_is_quiet(&f->position, m->move);
        s->deepest = 0;
        Frame *next = searcher_play(s, f, m->move, position_gives_check(&f->position, &checks, m->move));
        int score = search_root_move(s, next, task, alpha, i - first + 1, quiet);
        agenda_end(&agenda.agenda, m->move);
        m->nodes += s->nodes - before;
        if (s->stopped)
            return best;
        if (i != first && score <= alpha)
            continue;
        note(m, s, task, alpha, score);
        best = at_least(best, score);
        if (score >= task->beta)
            break;
        alpha = at_least(alpha, score);
    }
    return best;
}
