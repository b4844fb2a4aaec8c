#include "bench/contrast/judge.h"
#include "engine/evaluation/clamp.h"

#include <math.h>

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

double winning_chance(int score)
{
    return 1 / (1 + exp(-score / (double)WIN_SCALE));
}

double winning_percent(double win)
{
    return round(1000 * win) / 10 + 0.0;
}
