/* The results of a run on the standard output: nothing but results, so that those of two runs can be compared
 * byte by byte. */
#ifndef PAWNVANE_RUN_PRINT_H
#define PAWNVANE_RUN_PRINT_H

#include "bench/run/experiment_run.h"
#include "bench/run/run_comparison.h"

#include <cjson/cJSON.h>
#include <stdio.h>

typedef enum RunFormat { RUN_AS_TEXT, RUN_AS_JSON, RUN_AS_CSV } RunFormat;

/* Prints tables for people, one JSON object, or a CSV line for each match and stratum. `cost`, if not null,
 * adds what this process played and how long it took. False if memory runs out. */
bool run_print(FILE *out, const StoredRun *run, RunFormat format, const Questions *questions,
               const RunCost *cost);

/* What a command prints in place of that. */
typedef bool RunPrinter(void *context, FILE *out, const StoredRun *run, RunFormat format,
                        const RunCost *cost);

/* Adds the member "settings" of the object. */
void settings_json(cJSON *object, const StoredRun *run);

/* The cost: a line for people, a member "timings" of the object, a table of its own. */
void cost_print(FILE *out, const RunCost *cost);
void cost_json(cJSON *object, const RunCost *cost);
void cost_csv(FILE *out, const RunCost *cost);

/* Parts of the tables for people: one match, the trends, the readings side by side. */
void match_print(FILE *out, const StoredRun *run, int number, const MatchSummary *summary,
                 const Questions *questions);
enum { FORFEIT_TEXT_SIZE = 128 };

/* For people: how many games each arm lost so. False if that need not be said. */
bool match_forfeit_text(const StoredRun *run, int number, Forfeit forfeit, char text[FORFEIT_TEXT_SIZE]);

void trends_print(FILE *out, const Trend trends[PS_RULE_COUNT]);
void reading_pairs_print(FILE *out, const ReadingPair *pairs, int count);

#endif
