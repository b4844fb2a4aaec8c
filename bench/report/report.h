/* What runs of games and contrasts of positions show, as numbers: report_page.h and report_output.h write
 * them. */
#ifndef PAWNVANE_REPORT_H
#define PAWNVANE_REPORT_H

#include "bench/contrast/contrast_reader.h"
#include "bench/run/match_summary.h"

enum { REPORT_NAME_SIZE = 256, REPORT_STEPS = 120, REPORT_STEPS_FROM = 20 };

/* The estimate after that many pairs. */
typedef struct ReportStep {
    uint64_t pairs;
    MatchEstimate estimate;
} ReportStep;

/* One arm against another. */
typedef struct ReportMatch {
    const StoredRun *run;
    const StoredArm *a, *b;
    char name[REPORT_NAME_SIZE]; /* "weight 100, strict, against weight 0; 10000 nodes a move" */
    MatchSummary summary;
    int step_count;
    ReportStep
        steps[REPORT_STEPS]; /* evenly spread, from REPORT_STEPS_FROM pairs on; the last has all pairs */
    bool is_dose;            /* the arms differ in the term alone, and B plays without it */
} ReportMatch;

typedef struct Report {
    int match_count;
    ReportMatch *matches; /* by run, then as played */
    /* For each reading of the rule the dose match with most pairs, then nearest to weight 100; null
     * without one. */
    const ReportMatch *main[PS_RULE_COUNT];
    int contrast_count;
    const ReadContrast *contrasts;
} Report;

/* Works the numbers out. Refers to the runs and the contrasts, which must stay. False if memory runs out. */
bool report_make(Report *report, const StoredRun *runs, int run_count, const ReadContrast *contrasts,
                 int contrast_count);

void report_free(Report *report);

/* The finding in two sentences. */
enum { REPORT_SENTENCE_SIZE = 1024 };
void report_finding(const Report *report, char first[REPORT_SENTENCE_SIZE],
                    char second[REPORT_SENTENCE_SIZE]);

/* What a group of pairs says of the first arm, by its adjusted p-value at the 5 % level. */
typedef enum Effect { EFFECT_NONE, EFFECT_OPEN, EFFECT_HELPED, EFFECT_HARMED } Effect;
Effect report_effect(const GroupSummary *group);

/* Picks the most instructive changes: those confirmed by the second judgement, by the greatest gain or loss
 * in winning chances that it found. Returns how many. */
enum { INSTRUCTIVE_MAX = 10 };
int report_instructive(const Report *report, const ReadChange *changes[INSTRUCTIVE_MAX]);

#endif
