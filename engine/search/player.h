/* The player: everything that remembers from one search to the next, and the search itself as one call.
 *
 *     Player *player = player_new(16);
 *     Game game;
 *     SearchResult result;
 *     game_start(&game, &position);
 *     player_think(player, &game, &(SearchLimits){.nodes = 100000}, NULL, &result);
 *
 * Players share nothing: any number may think at once, each in a thread of its own. With one worker and a
 * limit of depth, of nodes, or of time with a pace, the result depends only on the game, the limits, the settings and
 * what the player remembers; after player_forget() it remembers nothing. */
#ifndef PAWNVANE_PLAYER_H
#define PAWNVANE_PLAYER_H

#include "engine/evaluation/misjudgement.h"
#include "engine/rules/game.h"
#include "engine/search/parameters.h"
#include "engine/search/thought.h"
#include "structure/structure.h"

typedef struct Player Player;

typedef struct PlayerSettings {
    int lever_weight;   /* percent of the lever term, 0: off, 100: default */
    ps_rule lever_rule; /* which reading of the rule the term follows */
    ps_weights lever_weights;
    Misjudgement misjudgement;
    Parameters parameters;
    SearchProbe *probe; /* who looks on, with one worker only; null: nobody */
} PlayerSettings;

/* Hash table size in MiB, 1 or more. Null if memory runs out. */
Player *player_new(size_t table_mib);
void player_free(Player *player);

/* Changes the table's size. On failure (false) the old table stays. Not while thinking. */
bool player_resize(Player *player, size_t table_mib);

/* Changes how many threads think together, from 1 (as at first) to WORKERS_MAX. On failure (false) the
 * old number stays. Not while thinking. */
bool player_set_workers(Player *player, int count);

/* Forgets everything learned from earlier searches. Not while thinking. */
void player_forget(Player *player);

/* Does now what would make the first search slow. Not while thinking. */
void player_warm_up(Player *player);

/* To read and to change, between searches. */
PlayerSettings *player_settings(Player *player);

/* Thinks about the present position of the game; the listener may be null. Returns when a limit is reached or
 * after player_stop(). */
void player_think(Player *player, const Game *game, const SearchLimits *limits,
                  const SearchListener *listener, SearchResult *result);

/* From any thread, at any time: end the search that is running; with none running, the next one ends at once,
 * unless player_prepare() comes in between. */
void player_stop(Player *player);

/* Forgets an earlier player_stop(). With `ponder` the time limits of the next search, which must have its
 * `ponder` limit set, wait for player_ponder_hit(). Called by whoever starts the search, before its thread runs. */
void player_prepare(Player *player, bool ponder);
void player_ponder_hit(Player *player);

/* The static evaluation in centipawns for the side to move, under the player's settings. */
int player_evaluate(Player *player, const Position *position);

#endif
