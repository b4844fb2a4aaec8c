/* Finds start positions for experiments: first in games of files, then in short games that the engine plays against itself
 * from random beginnings. The first position of a game that belongs to a stratum and is fit to start from is kept. */
#ifndef PAWNVANE_OPENING_GROWTH_H
#define PAWNVANE_OPENING_GROWTH_H

#include "bench/play/opening_stratum.h"

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

enum {
    GROWTH_FIRST_PLY = 8, /* a position is kept between these plies of its game */
    GROWTH_LAST_PLY = 40,
    GROWTH_READ_LAST_PLY = 60, /* in games of files, which take longer to lock */
    GROWTH_PLAY_NODES = 400,   /* positions searched for a move of the game */
    GROWTH_JUDGE_NODES = 50000
};

typedef struct Growth {
    uint64_t seed;
    size_t each;              /* wanted of each stratum */
    size_t games;             /* to be played at most */
    const char *const *files; /* PGN */
    int file_count;
    int bound; /* centipawns: the judging search must find no side further ahead */
    int workers;
    bool quiet;
} Growth;

/* Writes EPD lines to `out`, strata one after another, with the operations id, c0 (the stratum) and ce (what
 * the judging search found, centipawns for the side to move); how many of each to `found`. The same `growth`
 * and files give the same lines whatever the number of workers. What is unreadable has been reported. */
typedef enum GrowthEnd { GROWTH_DONE, GROWTH_NO_MEMORY, GROWTH_UNREADABLE } GrowthEnd;
GrowthEnd openings_grow(const Growth *growth, FILE *out, size_t found[STRATUM_COUNT]);

#endif
