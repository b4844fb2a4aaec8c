/* The results of a run on the standard output: nothing but results, so that those of two runs can be compared
 * byte by byte. */
#ifndef PAWNVANE_RUN_PRINT_H
#define PAWNVANE_RUN_PRINT_H

#include "bench/run/experiment_run.h"
#include "bench/run/run_comparison.h"

#include <stdio.h>

typedef enum RunFormat { RUN_AS_TEXT, RUN_AS_JSON, RUN_AS_CSV } RunFormat;

/* Prints tables for people, one JSON object, or a CSV line for each match and stratum. `cost`, if not null,
 * adds what this process played and how long it took. False if memory runs out. */
bool run_print(FILE *out, const StoredRun *run, RunFormat format, const Questions *questions,
               const RunCost *cost);

/* Parts of the tables for people: one match, the trends, the readings side by side. */
void match_print(FILE *out, const StoredRun *run, int number, const MatchSummary *summary,
                 const Questions *questions);
enum { FORFEIT_TEXT_SIZE = 128 };

/* For people: how many games each arm lost so. False if that need not be said. */
bool match_forfeit_text(const StoredRun *run, int number, Forfeit forfeit, char text[FORFEIT_TEXT_SIZE]);

void trends_print(FILE *out, const Trend trends[PS_RULE_COUNT]);
void reading_pairs_print(FILE *out, const ReadingPair *pairs, int count);

#endif
