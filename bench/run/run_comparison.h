/* Matches compared with each other, opening by opening: how the effect grows with the dose, the two readings
 * of the rule side by side, and what two matches share.
 *
 * Matches on the same openings are not independent of each other. So a comparison takes one value from each
 * opening, and its unit is the opening. */
#ifndef PAWNVANE_RUN_COMPARISON_H
#define PAWNVANE_RUN_COMPARISON_H

#include "bench/run/match_summary.h"

/* One match of a run. */
typedef struct MatchOf {
    const StoredRun *run;
    int index;
} MatchOf;

/* Whether B plays without the term and A with it, and nothing else is different. */
bool match_is_dose(MatchOf match);

/* Whether both are played under the same conditions: who plays, how long, how games end, where openings come
 * from. The weight and the reading of the rule may differ, the seed, the share and the rule
 * for stopping too. */
bool matches_are_alike(MatchOf a, MatchOf b);

/* Openings of which both have a finished pair. */
size_t openings_shared(MatchOf a, MatchOf b);

/* A mean difference of scores, as Elo near an even score, where one Elo is worth ln(10) / 1600
 * of the score. */
typedef struct Difference {
    size_t openings; /* 0: nothing can be said */
    double elo;
    Interval interval; /* 95 % */
    double p_value;    /* two-sided, of no difference */
    double p_adjusted; /* Holm's, over those that were asked for together */
    bool paired;       /* opening by opening; else by two independent samples */
} Difference;

/* By how much the first match's A scores more than the second's: on the openings they share, if these are
 * FINDING_PAIRS or more, by the rules of match_estimate() for the differences (Student's t, or the sign-flip
 * test and the bounded mean where few of them are not 0). Else by B. Welch, "The Generalization of
 * 'Student's' Problem when Several Different Population Variances are Involved", Biometrika 34, 1947. */
Difference match_difference(MatchOf a, MatchOf b);

/* The slope of the effect over the weight of the term, for 100 % more of it, through no effect at weight 0:
 * from each opening that all matches of the reading have finished the least-squares slope, and of these the
 * mean (the summary measure of each unit, J. Matthews, D. Altman, M. Campbell, P. Royston, "Analysis of
 * Serial Measurements in Medical Research", British Medical Journal 300, 1990). */
typedef struct Trend {
    int doses; /* below 2 there is none */
    Difference slope;
} Trend;

/* For each reading, adjusted over both. False if memory runs out. */
bool run_trends(const StoredRun *run, Trend trends[PS_RULE_COUNT]);

/* Strict against loose: two dose matches that are alike but for the reading. */
typedef struct ReadingPair {
    MatchOf strict, loose;
    Difference difference; /* strict less loose */
} ReadingPair;

/* All there are, but for those that a sequential test was to stop, each strict match with the loose one that
 * shares most openings with it; adjusted over all. Returns how many, -1 if memory runs out; free *pairs. */
int reading_pairs(const MatchOf *matches, int count, ReadingPair **pairs);

/* A finding is a difference with an adjusted P below 5 % from FINDING_PAIRS openings or more. */
bool difference_is_finding(const Difference *difference);

#endif
