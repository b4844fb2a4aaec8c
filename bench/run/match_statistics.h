/* What paired games say: statistics of matches in which each opening is played twice, colours changed.
 *
 * The two games of a pair share their opening, so they are not independent of each other; the pairs are. The
 * unit of all that follows is therefore the pair, and its outcome one of five: arm A scored 0, 1/2, 1, 3/2 or
 * 2 points. The score of a pair is its points divided by two, 0 to 1; an even match has the mean score 1/2.
 *
 * An Elo difference is the score on the logistic scale of A. E. Elo, "The Rating of Chessplayers, Past and
 * Present", 1978, 8.4: score = 1 / (1 + 10^(-difference / 400)). */
#ifndef PAWNVANE_MATCH_STATISTICS_H
#define PAWNVANE_MATCH_STATISTICS_H

#include "bench/base/statistics.h"

#include <stddef.h>
#include <stdint.h>

enum { PAIR_OUTCOMES = 5 };

/* How many pairs had which outcome: entry i counts those in which arm A scored i half points. */
typedef struct PairCounts {
    uint64_t n[PAIR_OUTCOMES];
} PairCounts;

uint64_t pair_total(const PairCounts *counts);

/* -infinity at score 0, infinity at 1. */
double elo_from_score(double score);
double score_from_elo(double elo);

/* -------------------------------------------------------------------------------------------- the estimate
 */

typedef struct MatchEstimate {
    uint64_t pairs;
    double score;          /* mean score of a pair; NaN without pairs */
    double standard_error; /* of the score; infinite below 2 pairs */
    Interval score_interval;
    double elo;
    Interval elo_interval; /* the score's interval on the Elo scale; an end may be infinite */
    double superiority;    /* likelihood that A is better: the one-sided P value against, from 1 */
    double p_value;        /* two-sided, of an even match */
} MatchEstimate;

/* The mean is the plain one. Its standard error is that of the sample mean, with half a pair more, spread
 * evenly over the five outcomes, in the variance alone: so a short match in which all pairs ended alike is
 * not taken for certainty; in a long one it vanishes. The interval is the score plus and minus Student's t
 * with pairs - 1 degrees of freedom times the standard error (NIST/SEMATECH e-Handbook of Statistical
 * Methods, 1.3.5.2), cut to 0 .. 1; with fewer than 2 pairs it is all of that. The tests simulate its
 * coverage: 93 to 97 % from 50 pairs on. */
MatchEstimate match_estimate(const PairCounts *counts, double confidence);

/* How many pairs a new match needs to tell a true difference as large as this one from none, two-sided at
 * level alpha, with that power (both 0 to 1): (z(1 - alpha/2) + z(power))^2 variance / effect^2, rounded up
 * (e-Handbook, 7.2.2.2). Infinite if there is no effect. */
double match_pairs_needed(const PairCounts *counts, double alpha, double power);

/* ------------------------------------------------------------------------------ the sequential test
 * A. Wald, "Sequential Analysis", 1947, made for two hypotheses about the mean alone: the shape of the
 * distribution over the five outcomes, which neither hypothesis names, is set to what fits the data best
 * under each (X. Li, J. Liu, Z. Ying, "Generalized Sequential Probability Ratio Test for Separate Families of
 * Hypotheses", Sequential Analysis 33, 2014; the constrained fit as in A. B. Owen, "Empirical Likelihood",
 * 2001). */

typedef struct SequentialTest {
    double elo0, elo1;  /* A is better by elo0: the null hypothesis; by elo1 > elo0: the alternative */
    double alpha, beta; /* bounds for wrongly taking the alternative, and the null hypothesis */
} SequentialTest;

typedef enum Verdict { VERDICT_GO_ON, VERDICT_NULL, VERDICT_ALTERNATIVE } Verdict;

/* The logarithm of the ratio of the two likelihoods. */
double sequential_ratio(const SequentialTest *test, const PairCounts *counts);

/* Wald's bounds for it: the null hypothesis is taken at or below `low` = log(beta), the alternative at or
 * above `high` = -log(alpha). By his inequalities the rates of error are then at most alpha and beta each.
 * His usual approximations, log(beta / (1 - alpha)) and log((1 - beta) / alpha), are a little nearer, but
 * promise only alpha / (1 - beta) and beta / (1 - alpha). */
Interval sequential_bounds(const SequentialTest *test);

Verdict sequential_verdict(const SequentialTest *test, const PairCounts *counts);

/* ------------------------------------------------------------------------------------------------ strata */

typedef struct Heterogeneity {
    double q;         /* Cochran's Q: squared deviations from the weighted mean in standard errors */
    double degrees;   /* strata with 2 pairs or more, less one */
    double p_value;   /* of all strata having the same true score; 1 if there is nothing to compare */
    double i_squared; /* share of the variation between strata that is more than chance, 0 to 1 */
} Heterogeneity;

/* Whether the effect differs between strata. W. G. Cochran, "The Combination of Estimates from Different
 * Experiments", Biometrics 10, 1954; I squared after J. Higgins, S. Thompson, Statistics in Medicine 21,
 * 2002. */
Heterogeneity match_heterogeneity(const PairCounts *strata, size_t count);

#endif
