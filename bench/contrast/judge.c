#include "bench/contrast/judge.h"
#include "engine/evaluation/clamp.h"

#include <math.h>
#include <stdlib.h>

void think_cold(Player *player, const Game *game, const SearchLimits *limits, const SearchListener *listener,
                SearchResult *result)
{
    player_forget(player);
    player_prepare(player, false);
    player_think(player, game, limits, listener, result);
}

static void note_score(void *context, const Position *root, const SearchLine *line)
{
    Thoughts *thoughts = context;
    (void)root;
    if (line->bound != BOUND_EXACT || line->depth == 0)
        return;
    thoughts->deepest = line->depth;
    thoughts->scores[line->depth] = line->score;
    thoughts->nodes[line->depth] = line->nodes;
}

void judge_alone(Player *player, const Game *game, Move move, uint64_t nodes, Thoughts *thoughts)
{
    MoveList only = {.count = 1, .moves = {move}};
    SearchResult result;
    *thoughts = (Thoughts){.deepest = 0};
    think_cold(player, game, &(SearchLimits){.nodes = nodes, .only = &only},
               &(SearchListener){.line = note_score, .context = thoughts}, &result);
}

int judged_cut_off(int score)
{
    return clamp(score, -JUDGED_SCORE_LIMIT, JUDGED_SCORE_LIMIT);
}

static int difference(const Thoughts *one, const Thoughts *other, int depth)
{
    return judged_cut_off(one->scores[depth]) - judged_cut_off(other->scores[depth]);
}

int judged_doubt(const Thoughts *one, const Thoughts *other, int depth)
{
    uint64_t nodes = one->nodes[depth] + other->nodes[depth];
    int doubt = 0;
    for (int d = depth - 1; d > 0; d--) {
        int change = abs(difference(one, other, depth) - difference(one, other, d));
        doubt = change > doubt ? change : doubt;
        if (2 * (one->nodes[d] + other->nodes[d]) <= nodes)
            return doubt;
    }
    return 2 * JUDGED_SCORE_LIMIT;
}

double winning_chance(int score)
{
    return 1 / (1 + exp(-score / (double)WIN_SCALE));
}

double winning_percent(double win)
{
    return round(1000 * win) / 10 + 0.0;
}
