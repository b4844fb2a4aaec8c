/* The player: everything that remembers from one search to the next, and the search itself as one call.
 *
 *     Player *player = player_new(16);
 *     Game game;
 *     SearchResult result;
 *     game_start(&game, &position);
 *     player_think(player, &game, &(SearchLimits){.nodes = 100000}, NULL, &result);
 *
 * Players share nothing: any number may think at once, each in a thread of its own. With one worker and a
 * limit of depth or nodes the result depends only on the game, the limits, the settings and what the player
 * remembers; after player_forget() it remembers nothing. */
#ifndef PAWNVANE_PLAYER_H
#define PAWNVANE_PLAYER_H

#include "engine/game.h"
#include "engine/parameters.h"
#include "engine/score.h"
#include "structure/structure.h"

typedef struct Player Player;

typedef struct PlayerSettings {
    int lever_weight;   /* percent of the lever term, 0: off, 100: default */
    ps_rule lever_rule; /* which reading of the rule the term follows */
    ps_weights lever_weights;
    Parameters parameters; /* of the search */
} PlayerSettings;

/* All limits hold at once; 0 is no limit. With none at all the search goes on until player_stop(). */
typedef struct SearchLimits {
    int depth;       /* plies */
    uint64_t nodes;  /* positions visited; kept to exactly with one worker */
    int64_t soft_ms; /* do not begin another iteration after about that long, less if the choice is stable */
    int64_t hard_ms; /* stop whatever is going on */
    int mate;        /* stop when a mate in that many moves or fewer is found */
    int lines;       /* best lines wanted (0 means 1) */
    const MoveList *only; /* root moves to consider, null: all */
    bool ponder;          /* time limits count from player_ponder_hit() */
} SearchLimits;

/* A line of play the search believes in. */
typedef struct SearchLine {
    int rank;  /* 1 is the best, 2 the second best, ... */
    int depth; /* plies of the full-width search */
    int deepest;
    int score; /* score.h, for the side to move at the root */
    Bound bound;
    uint64_t nodes;
    int64_t microseconds;
    int table_permille; /* how full the transposition table is */
    int length;
    Move moves[MAX_PLY];
} SearchLine;

typedef struct SearchResult {
    Move best;   /* NO_MOVE if there is no legal move */
    Move ponder; /* the reply expected, NO_MOVE if none */
    uint64_t nodes;
    uint64_t nodes_to_choice; /* when the final best move became the best move for good */
    int64_t microseconds;
    SearchLine line; /* the best line, with score and depth */
    /* Share of beta cut-offs that came on the first move searched: the quality of the move ordering. */
    uint64_t cutoffs, first_move_cutoffs;
} SearchResult;

/* Told of each new line, from the thread that called player_think(). `root` is the position searched. */
typedef void (*SearchReport)(void *context, const Position *root, const SearchLine *line);

/* Hash table size in MiB, 1 or more. Null if memory runs out. */
Player *player_new(size_t table_mib);
void player_free(Player *player);

/* Changes the table's size. On failure (false) the old table stays. Not while thinking. */
bool player_resize(Player *player, size_t table_mib);

/* Forgets everything learned from earlier searches. Not while thinking. */
void player_forget(Player *player);

/* To read and to change, between searches. */
PlayerSettings *player_settings(Player *player);

/* Thinks about the present position of the game. Returns when a limit is reached or after player_stop(). */
void player_think(Player *player, const Game *game, const SearchLimits *limits, SearchReport report,
                  void *context, SearchResult *result);

/* From any thread, at any time: end the search that is running; with none running, the next one ends at once,
 * unless player_prepare() comes in between. */
void player_stop(Player *player);

/* Forgets an earlier player_stop(). With `ponder` the time limits of the next search, which must have its
 * `ponder` limit set, count from player_ponder_hit(). Called by whoever starts the search, before its thread
 * runs. */
void player_prepare(Player *player, bool ponder);
void player_ponder_hit(Player *player);

/* The static evaluation in centipawns for the side to move, under the player's settings. */
int player_evaluate(Player *player, const Position *position);

#endif
