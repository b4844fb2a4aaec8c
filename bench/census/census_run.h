/* Reads collections of games on several threads and hands out what each game shows, in the order of the
 * input. */
#ifndef PAWNVANE_CENSUS_RUN_H
#define PAWNVANE_CENSUS_RUN_H

#include "bench/census/census.h"
#include "bench/pgn/pgn_survey.h"

typedef struct CensusRun {
    PgnCollection collection;
    bool wants_opening, wants_fen, wants_moments;
    void *context;
    /* The game belongs to the run. False ends it. */
    bool (*game)(void *context, const char *file, const CensusGame *game);
} CensusRun;

/* False if a file cannot be read or memory runs out (reported), or if game() ended
 * it. What was good up to there has been handed out. */
bool census_run(CensusRun *run);

#endif
