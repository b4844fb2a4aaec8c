/* Reads collections of games on several threads and hands out what each game shows, in the order of the
 * input. */
#ifndef PAWNVANE_CENSUS_RUN_H
#define PAWNVANE_CENSUS_RUN_H

#include "bench/census/census.h"

typedef struct CensusRun {
    const char *const *paths; /* "-" is the standard input */
    int path_count;
    int workers;
    /* Games number `share`, `share` + `shares`, ... of the whole input, 1 for the first. */
    size_t share, shares;
    bool wants_opening, wants_fen;
    void *context;
    /* The game belongs to the run. False ends it. */
    bool (*game)(void *context, const char *file, const CensusGame *game);
    /* A broken game of the share. */
    void (*broken)(void *context, const char *file, const PgnFault *fault);
} CensusRun;

/* False if a file cannot be read or memory runs out (reported), or if game() ended
 * it. What was good up to there has been handed out. */
bool census_run(const CensusRun *run);

#endif
