/* The ladder of strengths on the standard output: for people, as one JSON object, or as a line for each level. */
#ifndef PAWNVANE_LADDER_PRINT_H
#define PAWNVANE_LADDER_PRINT_H

#include "bench/ladder/ladder_suite.h"
#include "bench/run/run_print.h"

/* A RunPrinter of the ladder that was played; its context is the LadderSuite that the levels are to solve, or null. */
bool ladder_print(void *suite, FILE *out, const StoredRun *run, RunFormat format, const RunCost *cost);

#endif
