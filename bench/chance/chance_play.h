/* Games that the engine plays against itself, for a sample of the moves that it searches. */
#ifndef PAWNVANE_CHANCE_PLAY_H
#define PAWNVANE_CHANCE_PLAY_H

#include "bench/chance/chance_sample.h"

typedef struct ChancePlay {
    size_t games;         /* 1 .. CHANCE_GAMES_MAX */
    int64_t nodes;        /* a move */
    uint64_t seed;        /* of the openings */
    const char *openings; /* an EPD file of positions to start from, one a game; null: drawn at random */
    int table_mib, workers;
    bool quiet; /* no progress line */
} ChancePlay;

/* Plays the games and adds the moves sampled in them, games numbered from 1. The sample depends on all of it but the
 * workers. If the program is interrupted (interrupt.h), the games before the first that was not finished are there.
 * False on failure (reported). */
bool chance_play(ChanceSample *sample, const ChancePlay *play);

#endif
