/* What runs of games and contrasts of positions show, as numbers: report_page.h and report_output.h write
 * them. */
#ifndef PAWNVANE_REPORT_H
#define PAWNVANE_REPORT_H

#include "bench/contrast/contrast_reader.h"
#include "bench/report/stratum_weights.h"
#include "bench/run/run_comparison.h"

enum { REPORT_NAME_SIZE = 256, REPORT_STEPS = 120, REPORT_STEPS_FROM = 20 };

/* The estimate after that many pairs. */
typedef struct ReportStep {
    uint64_t pairs;
    MatchEstimate estimate;
} ReportStep;

/* One arm against another. */
typedef struct ReportMatch {
    MatchOf of;
    const StoredRun *run;
    const StoredArm *a, *b;
    char name[REPORT_NAME_SIZE]; /* "weight 100, strict, against weight 0; 10000 nodes a move" */
    MatchSummary summary;
    WeightedEstimate weighted; /* by how often the strata occur, if that was given */
    int step_count;
    ReportStep
        steps[REPORT_STEPS]; /* evenly spread, from REPORT_STEPS_FROM pairs on; the last has all pairs */
    bool is_dose;            /* the arms differ in the term alone, and B plays without it */
    int conditions; /* of dose matches that are alike (matches_are_alike()): the same number, from 0; else -1
                     */
} ReportMatch;

/* Two runs with openings in common. */
typedef struct ReportSharing {
    int first, second; /* runs */
    size_t openings;   /* that a match of the one shares with one of the other at most */
    size_t same_games; /* pairs that are the very same games in both */
} ReportSharing;

typedef struct Report {
    int run_count, match_count;
    const StoredRun *runs;
    Questions questions;
    const StratumWeights *weights; /* null if none were given */
    ReportMatch *matches;          /* by run, then as played */
    int conditions_count;
    /* For each reading of the rule the dose match with most pairs, then nearest to weight 100; the loose one
     * under the conditions and with the weight of the strict one. Null without one. */
    const ReportMatch *main[PS_RULE_COUNT];
    int reading_count;
    ReadingPair *readings;          /* strict against loose, like with like */
    Trend (*trends)[PS_RULE_COUNT]; /* of each run */
    int sharing_count;
    ReportSharing *sharing;
    int contrast_count;
    const ReadContrast *contrasts;
} Report;

/* Works the numbers out. Refers to the runs, weights and contrasts, which must stay; `weights` may be null.
 * False if memory runs out. */
bool report_make(Report *report, const StoredRun *runs, int run_count, const Questions *questions,
                 const StratumWeights *weights, const ReadContrast *contrasts, int contrast_count);

void report_free(Report *report);

/* The finding in two sentences. */
enum { REPORT_SENTENCE_SIZE = 1024 };
void report_finding(const Report *report, char first[REPORT_SENTENCE_SIZE],
                    char second[REPORT_SENTENCE_SIZE]);

/* Whether the run, which counts from 0, lacks games that it was to have, and how many, in a sentence. One that a
 * rule was to stop lacks none. */
bool report_unfinished_text(const Report *report, int run, char text[REPORT_SENTENCE_SIZE]);

/* What two runs have in common, in a sentence or two. */
void report_sharing_text(const ReportSharing *sharing, char text[REPORT_SENTENCE_SIZE]);

/* The conditions of a match: "2500 nodes a move", and what else there is. */
void report_conditions_text(const ReportMatch *match, char text[REPORT_NAME_SIZE]);

/* What a sequential test of the match has decided, with its hypotheses; what stopping does to the estimate. */
void report_test_text(const ReportMatch *match, char text[REPORT_SENTENCE_SIZE]);

/* Picks the most instructive changes: those confirmed by the second judgement, by the greatest gain or loss
 * in winning chances that it found. Returns how many. */
enum { INSTRUCTIVE_MAX = 10 };
int report_instructive(const Report *report, const ReadChange *changes[INSTRUCTIVE_MAX]);

#endif
