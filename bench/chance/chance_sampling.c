#include "bench/chance/chance_sampling.h"

#include "engine/search/learning.h"
#include "engine/search/pruning.h"
#include "engine/search/search.h"
#include "structure/mix.h"

#include <assert.h>

static bool is_open(const Node *n)
{
    return !n->f->excluded && mix_bits(n->f->position.key) % SAMPLED_ONE_OF == 0;
}

/* Where everything loses so far, nothing is left out, and each move is looked at to the end. */
static bool skips_unless_open(const Searcher *s, const Node *n, int best, MoveContext *m)
{
    return skips_move(s, n, is_open(n) ? -SCORE_INFINITE : best, m);
}

static bool drops_unless_open(const Parameters *par, const Node *n, const MoveContext *m, int best)
{
    return !is_open(n) && drops_move(par, n, m, best);
}

static bool reduces_unless_open(const Node *n, const MoveContext *m)
{
    return !is_open(n) && reduces_move(n, m);
}

static bool is_sampled(const Node *n, const MoveContext *m)
{
    return is_open(n) && m->number > 1;
}

static MoveSampler *sampler_of(Searcher *s)
{
    return (MoveSampler *)s->probe;
}

static void look_and_begin(Searcher *s, const Node *n, MoveContext *m, Frame *next)
{
    look_behind_move(s, n, m, next);
    if (!is_sampled(n, m))
        return;
    int gap = next->checkers ? CHANCE_NO_GAP : n->alpha + searcher_look(s, next, NULL).corrected;
    ChanceMove *move = &sampler_of(s)->begun[n->f->ply];
    *move = describe_move(n, m, gap);
    /* The search has looked up the same cells. */
    assert(m->traits == chance_by_order(move->depth, move->number, move->history, m->quiet) +
                            chance_by_sort((MoveSort)move->sort, move->gives_check) +
                            chance_by_squares((Origin)move->origin, (Goal)move->goal));
}

static void note_move(Searcher *s, const Node *n, const MoveContext *m, bool raised)
{
    MoveSampler *sampler = sampler_of(s);
    if (!is_sampled(n, m))
        return;
    const SampledMove move = {sampler->begun[n->f->ply], sampler->game, raised};
    sampler->failed |= !chance_sample_add(sampler->sample, &move, 1);
}

static NodeSearch search_and_sample;

#define search_node search_and_sample
#define skips_move skips_unless_open
#define drops_move drops_unless_open
#define reduces_move reduces_unless_open
#define look_behind_move look_and_begin
#define NOTE_MOVE note_move
// NOLINTNEXTLINE(bugprone-suspicious-include): a second search of the same words
#include "engine/search/search.c"

void move_sampler_attach(MoveSampler *sampler, Player *player)
{
    sampler->probe.search = search_and_sample;
    player_settings(player)->probe = &sampler->probe;
}
