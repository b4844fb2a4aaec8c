/* Plays the games of an experiment. */
#ifndef PAWNVANE_EXPERIMENT_RUN_H
#define PAWNVANE_EXPERIMENT_RUN_H

#include "bench/run/store.h"

typedef struct RunSettings {
    int workers; /* threads; each has players of its own */
    bool quiet;  /* no progress line */
} RunSettings;

typedef struct RunCost {
    size_t games; /* played now, not found in the store */
    double seconds;
} RunCost;

/* Plays what the store does not have yet. Which games are in it at the end depends on the experiment, which has
 * the openings of a share, alone; with a limit of nodes so does each move of them. False on failure (reported);
 * every game that was finished is in the store all the same. An interruption (interrupt.h) drops the games in hand; that
 * is no failure. */
bool experiment_run(const Experiment *experiment, Store *store, const RunSettings *settings, RunCost *cost);

#endif
