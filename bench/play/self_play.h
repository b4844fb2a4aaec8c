/* Games that the engine plays against itself, for a sample: whoever wants one says what is taken from a game. */
#ifndef PAWNVANE_SELF_PLAY_H
#define PAWNVANE_SELF_PLAY_H

#include "bench/play/play.h"

typedef struct SelfPlay {
    size_t games;
    int64_t nodes;        /* a move */
    uint64_t seed;        /* of the openings */
    const char *openings; /* an EPD file of positions to start from, one a game; null: drawn at random */
    int table_mib, workers;
    bool quiet; /* no progress line */
} SelfPlay;

typedef struct GameSink {
    size_t size; /* bytes of a game: those of its GameRecord, which comes first, and of what else it holds */
    void *context; /* for take() */

    /* Before a game is played, number `index` (from 0), all of whose bytes are zero, by the player of both sides; null if
     * nothing is to be done. Games are begun on several threads. */
    void (*begin)(void *game, size_t index, Contestant *player);

    /* Takes what it wants of a game, in order, and frees what that holds. False if memory ran out. */
    bool (*take)(void *context, size_t index, const Position *start, void *game);

    /* Frees what a game holds that will not be taken; null if that is nothing. */
    void (*discard)(void *game);
} GameSink;

/* Plays the games; what is taken depends on all of it but the workers. If the program is interrupted (interrupt.h), the
 * games before the first that was not finished have been taken. False on failure (reported). */
bool self_play(const SelfPlay *play, const GameSink *sink);

/* When the games so far have been written to a file (null: to none): whether they are all that were to be played, so that they
 * can be fitted to. What was fitted to a part of them would not be what was asked for: if the program was interrupted, that
 * is reported. */
bool self_play_was_whole(const char *sample);

#endif
