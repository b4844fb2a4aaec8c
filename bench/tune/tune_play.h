/* The games of a tuning. */
#ifndef PAWNVANE_TUNE_PLAY_H
#define PAWNVANE_TUNE_PLAY_H

#include "bench/play/opening.h"
#include "bench/tune/tune.h"

typedef struct TunePlay {
    const OpeningSet *openings; /* one for each trial in turn, from the first again behind the last */
    int64_t nodes;              /* positions a move */
    int table_mib, workers;
} TunePlay;

/* Draws the trials of a round and plays each: one opening, twice, with colours changed. The same results with
 * any number of workers. False on failure (reported). */
bool tune_play_round(const TunePlay *play, const Tuning *tuning, size_t round, Trial *trials);

#endif
