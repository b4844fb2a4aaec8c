/* What a search thinks of a move that it searches alone, depth by depth, and what such a score means. */
#ifndef PAWNVANE_JUDGE_H
#define PAWNVANE_JUDGE_H

#include "engine/search/player.h"

enum { JUDGED_SCORE_LIMIT = 1000 };

/* A score of s centipawns is a winning chance, a draw being half a win, of 1 / (1 + exp(-s / WIN_SCALE)).
 * Fitted to what the engine thought in 960 games against itself: the scale of the search's scores that
 *
 *     pawnvane-bench fit --games 1200 --nodes 2000 --openings bench/openings/strata.epd
 *
 * prints. */
enum { WIN_SCALE = 123 };

/* What a search thought of a move at each depth that it finished. */
typedef struct Thoughts {
    int deepest;
    int scores[MAX_PLY];
    uint64_t nodes[MAX_PLY]; /* that it had visited by then */
} Thoughts;

/* Thinks by the player's settings, and as if it had never thought before. The listener may be null. */
void think_cold(Player *player, const Game *game, const SearchLimits *limits, const SearchListener *listener,
                SearchResult *result);

/* Searches a legal move as the only one, from nothing. */
void judge_alone(Player *player, const Game *game, Move move, uint64_t nodes, Thoughts *thoughts);

/* A score within JUDGED_SCORE_LIMIT: beyond it a game is as good as decided, and differences say nothing. */
int judged_cut_off(int score);

/* By how many centipawns the difference of two moves, at a depth that was finished for both, has changed since half of
 * the nodes were spent on them; scores are cut off. A difference that is no larger is too close to call: twice the
 * nodes may turn it over. Where nothing is known of half of the nodes, as much as a difference can be. */
int judged_doubt(const Thoughts *one, const Thoughts *other, int depth);

/* Of a score as in score.h, 0 to 1. */
double winning_chance(int score);

/* Winning chances in percent as they are printed, to a tenth: no zero has a minus. */
double winning_percent(double win);

#endif
