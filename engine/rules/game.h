/* A game in progress: a position with the history that repetition needs, and how a game ends.
 *
 * Article numbers are those of the FIDE Laws of Chess (2023). */
#ifndef PAWNVANE_GAME_H
#define PAWNVANE_GAME_H

#include "engine/rules/movegen.h"

#include <stddef.h>

typedef struct Game {
    Position position;
    /* Keys of all positions so far, the present one last. */
    uint64_t *keys;
    size_t count, capacity;
} Game;

typedef enum GameEnd {
    GAME_GOES_ON,
    GAME_CHECKMATE,
    GAME_STALEMATE,            /* 5.2.1 */
    GAME_DEAD_MATERIAL,        /* 5.2.2, as far as material shows it */
    GAME_FIVEFOLD_REPETITION,  /* 9.6.1 */
    GAME_SEVENTY_FIVE_MOVES,   /* 9.6.2; checkmate on the last move counts first */
    GAME_THREEFOLD_REPETITION, /* 9.2: a player may claim */
    GAME_FIFTY_MOVES,          /* 9.3: a player may claim */
    GAME_END_COUNT
} GameEnd;

/* The end in a few English words. */
const char *game_end_text(GameEnd end);

/* Starts a game. False if memory runs out. */
bool game_start(Game *game, const Position *position);

/* Plays a legal move. False if memory runs out; the game is then as it was. */
bool game_play(Game *game, Move move);

void game_free(Game *game);

/* How often the present position has stood on the board, this time included. */
int game_repetitions(const Game *game);

/* How the game has ended. Ends that need a claim are named only with `claims`, and after those that do
 * not. */
GameEnd game_end(const Game *game, bool claims);

#endif
