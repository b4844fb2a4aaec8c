/* How often each stratum of openings occurs in games: what an effect over all games would be, where the
 * openings of a match are as many of each kind. */
#ifndef PAWNVANE_STRATUM_WEIGHTS_H
#define PAWNVANE_STRATUM_WEIGHTS_H

#include "bench/run/match_summary.h"

typedef struct StratumWeights {
    int count;
    char *names[STRATA_MAX];
    double shares[STRATA_MAX]; /* sum 1 */
} StratumWeights;

/* Reads what `census --json` has printed (its "strata"), or lines of a name and a number, 0 or more, of any
 * unit; # begins a comment. Games of no stratum ("other") are left out: no opening is like them. False on
 * failure (reported); free the weights all the same. */
bool stratum_weights_read(StratumWeights *weights, const char *path);
void stratum_weights_free(StratumWeights *weights);

/* Whether the run has pairs for at least one of them; else complains about the file. */
bool stratum_weights_fit(const StratumWeights *weights, const StoredRun *run, const char *path);

/* A mean over strata weighted by those shares (post-stratification: W. Cochran, "Sampling Techniques", 3rd
 * edition, 1977, 5A.9), with Student's t and the degrees of freedom of F. Satterthwaite, "An Approximate
 * Distribution of Estimates of Variance Components", Biometrics 2, 1946. The standard error of a stratum with
 * fewer than BOUNDED_DECIDED pairs that are not ties is taken from its interval; so it is cautious then. */
typedef struct WeightedEstimate {
    double covered; /* share of the weights whose strata have two pairs or more; the others are left out */
    double score, elo;
    Interval elo_interval; /* 95 % */
} WeightedEstimate;

/* Covered is 0, and the rest NaN, where no stratum counts, or where a sequential test was to
 * stop the match. */
WeightedEstimate weighted_estimate(const StratumWeights *weights, const MatchSummary *summary);

#endif
