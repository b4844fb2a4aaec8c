#include "engine/search/iterate.h"

#include "engine/endings/ending_tables.h"
#include "engine/search/clock.h"
#include "engine/search/mate_proof.h"

#include <stdlib.h>
#include <string.h>

typedef struct Root {
    Searcher *s;
    const Watch *watch;
    const SearchListener *listener; /* null for a helper */
    int depth;                      /* of the iteration */
    int64_t share_us;               /* what the choice was worth after the last iteration, 0: not said */
    bool mate_looked_for;           /* by the proof, whether there is one within the limit */
    Race *race;                     /* of the iteration that is being searched; else null */
    RootMoves moves;
} Root;

/* Another worker has finished this iteration. */
static bool is_outrun(const Root *root)
{
    return root->race && race_is_lost(root->race, root->depth);
}

/* While the opponent thought, enough was thought for this move, too: the answer can be given at once. */
static bool was_pondered_enough(const Root *root)
{
    const Watch *watch = root->watch;
    return watch->limits->ponder && root->share_us && watch->spent_us(watch->context) >= root->share_us;
}

static bool should_stop(void *context)
{
    const Root *root = context;
    return root->watch->should_stop(root->watch->context) || was_pondered_enough(root) || is_outrun(root);
}

/* What would only flood the client in the first second is not said in it. */
static bool is_late(const Root *root)
{
    return root->listener && clock_now_us() - root->watch->start_us > 1000000;
}

static void tell_step(void *context, int index, int depth)
{
    const Root *root = context;
    if (is_late(root) && root->listener->step)
        root->listener->step(root->listener->context, &root->s->frames[0].position,
                             &(SearchStep){depth, root->moves.list[index].move, index + 1});
}

/* Goes on behind a line with the moves of the table and of the exact endings, until a position comes again. */
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
            if (i >= MAX_PLY || p.halfmoves >= 100 || position_material_is_dead(&p))
                return;
            Move move = ending_move(&p);
            if (move == NO_MOVE && table_probe(s->table, table_key(&p), &entry) &&
                movegen_is_legal(&p, entry.move))
                move = entry.move;
            if (move == NO_MOVE)
                return;
            line->moves[line->length++] = move;
        }
        position_play(&p, line->moves[i]);
    }
}

/* Whether a line ends with the mate that its score speaks of, before the fifty-move rule makes a draw of it. */
static bool line_mates(const Position *root, const SearchLine *line)
{
    Position p = *root;
    if (SCORE_MATE - abs(line->score) != line->length)
        return false;
    for (int i = 0; i < line->length; i++) {
        if (p.halfmoves >= 100)
            return false;
        position_play(&p, line->moves[i]);
    }
    return position_in_check(&p) && !movegen_any(&p);
}

/* Of a move that no search has looked at yet, the static score is told, as one of depth 0. */
static void describe(const Root *root, int index, SearchLine *line)
{
    const RootMove *m = &root->moves.list[index];
    const Frame *f = &root->s->frames[0];
    int score = m->score == -SCORE_INFINITE ? m->last_score : m->score;
    if (m->depth == 0)
        score = f->checkers ? SCORE_DRAW : f->static_score;
    *line = (SearchLine){.rank = index + 1,
                         .depth = m->depth,
                         .deepest = at_least(m->deepest, m->depth),
                         .score = score,
                         .bound = m->bound,
                         .length = m->length};
    memcpy(line->moves, m->line, (size_t)m->length * sizeof *m->line);
    extend_line(root->s, line);
    if (score_is_mate(line->score) && !line_mates(&f->position, line))
        line->score = score_without_mate(line->score);
    line->nodes = root->s->nodes;
    line->microseconds = clock_now_us() - root->watch->start_us;
}

static void tell(const Root *root, int index, SearchLine *line)
{
    describe(root, index, line);
    if (root->listener->line) {
        line->table_permille = table_permille(root->s->table);
        root->listener->line(root->listener->context, &root->s->frames[0].position, line);
    }
}

/* Searches number `index` with a window round its last score, twice as wide on the side where it fell outside. */
static void search_in_window(Root *root, int index, int depth)
{
    Searcher *s = root->s;
    int width = s->parameters.window;
    int alpha = -SCORE_INFINITE, beta = SCORE_INFINITE, last = root->moves.list[index].last_score;
    if (depth >= WINDOW_LEAST_DEPTH && !score_is_mate(last)) {
        alpha = at_least(last - width, -SCORE_INFINITE);
        beta = at_most(last + width, SCORE_INFINITE);
    }
    for (;;) {
        RootTask task = {.first = index,
                         .end = root->moves.count,
                         .alpha = alpha,
                         .beta = beta,
                         .depth = depth,
                         .iteration = root->depth,
                         .step = tell_step,
                         .context = root};
        int score = root_moves_search(&root->moves, s, &task);
        root_moves_sort(&root->moves, index);
        if (s->stopped)
            return;
        Bound bound = root->moves.list[index].bound;
        if (bound == BOUND_EXACT)
            return;
        if (is_late(root)) {
            SearchLine line;
            tell(root, index, &line);
        }
        width *= WINDOW_GROWTH;
        if (bound == BOUND_UPPER) {
            alpha = width > WINDOW_WIDEST ? -SCORE_INFINITE : at_least(score - width, -SCORE_INFINITE);
        } else {
            beta = width > WINDOW_WIDEST ? SCORE_INFINITE : at_most(score + width, SCORE_INFINITE);
            root->moves.list[index].last_score = score; /* stays first if the time ends now */
        }
    }
}

/* The share of all nodes that went to the best move, in percent. */
static int effort_of_choice(const Root *root)
{
    uint64_t nodes = 0;
    for (int i = 0; i < root->moves.count; i++)
        nodes += root->moves.list[i].nodes;
    return nodes ? (int)(root->moves.list[0].nodes * 100 / nodes) : 0;
}

/* Whether the search for a mate is over: it has been found, or there is none. The proof begins when an iteration has
 * been deep enough to show the mate. */
static bool mate_is_decided(Root *root, const SearchLine *line)
{
    int moves = root->watch->limits->mate;
    if (!moves || !root->listener)
        return false;
    if (score_is_win(line->score) && score_mate_moves(line->score) <= moves)
        return true;
    if (root->mate_looked_for || root->depth < 2 * moves)
        return false;
    root->mate_looked_for = true;
    return mate_proof(root->s, moves) == MATE_NOT_THERE || root->s->stopped;
}

static bool enough(Root *root, const SearchLine *line, int stable, int drop)
{
    int depth = root->depth;
    const SearchLimits *limits = root->watch->limits;
    const Searcher *s = root->s;
    if (s->stopped || (limits->depth && depth >= limits->depth) || depth >= MAX_PLY - 1)
        return true;
    if (mate_is_decided(root, line))
        return true;
    if (!limits->soft_ms)
        return false;
    root->share_us =
        limits->soft_ms * 10 * clock_percent(&s->parameters, stable, effort_of_choice(root), drop);
    int64_t spent = root->watch->spent_us(root->watch->context);
    if (spent < 0)
        return false;
    if (root->moves.count == 1 && !limits->only && depth >= ONLY_MOVE_DEPTH)
        return true;
    return spent >= root->share_us;
}

static void set_result(const Root *root, SearchResult *result)
{
    const RootMove *best = &root->moves.list[0];
    result->best = best->move;
    result->ponder = best->length > 1 ? best->line[1] : NO_MOVE;
}

/* Searches all moves to one depth, or lets another worker do it. */
static void search_iteration(Root *root, int lines)
{
    Searcher *s = root->s;
    for (int i = 0; i < root->moves.count; i++)
        root->moves.list[i].last_score = root->moves.list[i].score;
    root->race = root->watch->race;
    for (int i = 0; i < lines && !s->stopped; i++)
        search_in_window(root, i, root->depth);
    bool outrun = is_outrun(root);
    root->race = NULL;
    if (outrun) {
        root->depth = race_take_over(root->watch->race, &root->moves);
        s->stopped = false;
        return;
    }
    /* An unfinished iteration counts as far as it got. */
    for (int i = 0; s->stopped && i < root->moves.count; i++)
        if (root->moves.list[i].score == -SCORE_INFINITE)
            root->moves.list[i].score = root->moves.list[i].last_score;
    /* A later line may have come out better than an earlier one. */
    root_moves_sort(&root->moves, 0);
    if (!s->stopped && root->watch->race)
        race_hand_over(root->watch->race, &root->moves, root->depth);
}

static int value_of(const MovePreference *preference, Move move)
{
    for (int i = 0; i < preference->moves.count; i++)
        if (preference->moves.moves[i] == move)
            return preference->values[i];
    return 0;
}

/* Of the moves that are worth more than `least` the one that is worth most, the one that stands first among equal
 * ones; 0, which is the best move, if there is none. */
static int most_preferred(const Root *root, const bool weighed[], int least)
{
    int most = 0, value = least;
    for (int i = 1; i < root->moves.count; i++) {
        int worth = value_of(root->watch->limits->preference, root->moves.list[i].move);
        if (!weighed[i] && worth > value)
            most = i, value = worth;
    }
    return most;
}

/* What a move may cost, in centipawns. */
static int allowance(const MovePreference *preference, Move move, Move best)
{
    int gain = value_of(preference, move) - value_of(preference, best);
    return preference->margin * at_most(gain, preference->whole_gain) / preference->whole_gain;
}

/* Searches one move behind the best: whether it reaches so far up, and then its score. The moves stay in their order. */
static bool lies_within(Root *root, int index, int lines, SearchLine *line)
{
    RootMoves *moves = &root->moves;
    RootMove *move = &moves->list[index];
    const RootMove before = *move, *best = &moves->list[0];
    const int least = best->score - allowance(root->watch->limits->preference, move->move, best->move);
    RootTask task = {.first = index,
                     .end = index + 1,
                     .alpha = least - 1,
                     .beta = least,
                     .depth = root->depth,
                     .iteration = root->depth,
                     .step = tell_step,
                     .context = root};
    if (index >= lines) { /* else it has a score of its own */
        root_moves_search(moves, root->s, &task);
        task.beta = best->score + 1;
        if (!root->s->stopped && move->score >= least && least < best->score)
            root_moves_search(moves, root->s, &task);
    }
    bool within = !root->s->stopped && move->score >= least;
    if (within)
        describe(root, index, line);
    *move = before;
    return within;
}

/* Looks for the preferred move after an iteration; what cannot be finished leaves that of the iteration before. */
static void weigh_preference(Root *root, int lines, SearchLine *preferred)
{
    enum { TRIES = 4 }; /* what is asked of more moves costs more strength than style is worth */
    const MovePreference *preference = root->watch->limits->preference;
    const RootMove *best = &root->moves.list[0];
    bool weighed[MOVES_MAX] = {false};
    if (!preference || !root->listener || root->s->stopped)
        return;
    int found = 0, least = value_of(preference, best->move);
    for (int i = 0; i < TRIES && !found && !score_is_mate(best->score); i++) {
        int index = most_preferred(root, weighed, least);
        if (index == 0)
            break;
        weighed[index] = true;
        if (lies_within(root, index, lines, preferred))
            found = index;
        if (root->s->stopped)
            return;
    }
    if (!found)
        preferred->depth = 0;
}

/* What was found to lie within the margin may no longer do so, if the last iteration has not been finished. */
static void review_preference(const Watch *watch, SearchResult *result)
{
    SearchLine *preferred = &result->preferred;
    if (preferred->depth > 0 &&
        (preferred->moves[0] == result->best || score_is_mate(result->line.score) ||
         preferred->score <
             result->line.score - allowance(watch->limits->preference, preferred->moves[0], result->best)))
        preferred->depth = 0;
}

/* The first line is the result's. */
static void tell_all(const Root *root, int lines, SearchResult *result)
{
    for (int i = 0; root->listener && i < lines; i++) {
        SearchLine line;
        tell(root, i, &line);
        if (i == 0)
            result->line = line;
    }
}

void iterate(Searcher *s, const Watch *watch, const SearchListener *listener, SearchResult *result)
{
    Root root = {.s = s, .watch = watch, .listener = listener};
    int lines = at_least(watch->limits->lines, 1);
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
    f->raw = SCORE_NONE;
    f->static_score = f->checkers ? SCORE_NONE : searcher_look(s, f, NULL).corrected;
    root_moves_list(&root.moves, s, watch->limits->only);
    if (root.moves.count == 0) {
        result->line.score = f->checkers ? score_mated_at(0) : SCORE_DRAW;
        return;
    }
    set_result(&root, result);
    lines = at_most(lines, root.moves.count);
    while (!enough(&root, &result->line, stable, drop)) {
        Move before = root.moves.list[0].move;
        int before_score = root.moves.list[0].score;
        root.depth++;
        search_iteration(&root, lines);
        if (root.moves.list[0].move != before || root.depth == 1)
            result->nodes_to_choice = s->nodes;
        stable = root.moves.list[0].move == before ? stable + 1 : 0;
        drop =
            root.depth > 1 && before_score != -SCORE_INFINITE ? before_score - root.moves.list[0].score : 0;
        set_result(&root, result);
        tell_all(&root, lines, result);
        weigh_preference(&root, lines, &result->preferred);
    }
    if (root.depth == 0) /* the time was up at once */
        tell_all(&root, lines, result);
    review_preference(watch, result);
    if (result->ponder == NO_MOVE && result->line.length > 1)
        result->ponder = result->line.moves[1];
    result->nodes = s->nodes;
    memcpy(result->cutoffs, s->cutoffs, sizeof s->cutoffs);
}
