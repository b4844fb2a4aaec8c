/* Games that the engine plays against itself, for a sample. */
#ifndef PAWNVANE_FIT_PLAY_H
#define PAWNVANE_FIT_PLAY_H

#include "bench/fit/fit_sample.h"

typedef struct FitPlay {
    size_t games;         /* 1 .. FIT_GAME_MAX */
    int64_t nodes;        /* a move */
    uint64_t seed;        /* of the openings */
    const char *openings; /* an EPD file of positions to start from, one a game; null: drawn at random */
    int plies_back;       /* see fit_sample.h */
    int workers;
    bool quiet; /* no progress line */
} FitPlay;

/* Plays the games and adds their quiet positions, games numbered from 1. The sample depends on all of it but
 * the workers. If the program is interrupted (interrupt.h), the games before the first that was not finished are
 * there. False on failure (reported). */
bool fit_play(FitSample *sample, const FitPlay *play);

#endif
