/* The options that duel and sweep have in common, and what happens when all is read: play, print. */
#ifndef PAWNVANE_EXPERIMENT_OPTIONS_H
#define PAWNVANE_EXPERIMENT_OPTIONS_H

#include "bench/base/command_line.h"
#include "bench/run/experiment.h"
#include "bench/run/questions.h"
#include "bench/run/run_print.h"

/* The values as they were given. */
typedef struct ExperimentOptions {
    const char *store, *openings, *strata, *share, *clock, *pgn, *adjudication;
    int64_t pairs, workers, seed, move_ms, pace, table_mib;
    bool json, csv, timings, quiet;
    Questions questions;
    RunPrinter *print; /* in place of run_print(); null: that */
    void *print_context;
} ExperimentOptions;

/* Positions a move, for an experiment that has no other limit. */
#define EXPERIMENT_NODES 10000

enum { EXPERIMENT_OPTION_COUNT = 19 };

/* Sets the defaults and fills the rows of a table of options for them. */
void experiment_options_table(ExperimentOptions *given, Option table[EXPERIMENT_OPTION_COUNT]);

/* Completes an experiment whose kind, arms, matches and stop rule are set, plays it, and prints the results.
 * Frees what it made. */
Status experiment_options_run(const ExperimentOptions *given, Experiment *experiment);

#endif
