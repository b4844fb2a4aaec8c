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

/* ----------------------------------------------------------------------------------------- the estimate */

typedef struct MatchEstimate {
    uint64_t pairs;
    uint64_t decided;      /* pairs that are not ties: those of which A scored anything but 1 point */
    double score;          /* mean score of a pair; NaN without pairs */
    double standard_error; /* of the score; infinite below 2 pairs */
    Interval score_interval;
    double elo;
    Interval elo_interval; /* the score's interval on the Elo scale; an end may be infinite */
    double p_upper;        /* one-sided: of a score as great or greater in an even match */
    double p_value;        /* two-sided, of an even match */
} MatchEstimate;

/* Pairs that are not ties: below so many P is exact, and below so many the interval leaves room for what has
 * not come yet. */
enum { EXACT_DECIDED = 30, BOUNDED_DECIDED = 15 };

/* The mean is the plain one. Its standard error is that of the sample mean, with half a pair more, spread
 * evenly over the five outcomes, in the variance alone: so a short match in which all pairs ended alike is
 * not taken for certainty; in a long one it vanishes.
 *
 * The interval is the score plus and minus Student's t with pairs - 1 degrees of freedom times the standard
 * error (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2), cut to 0 .. 1, and P is that of the same
 * t. With fewer than EXACT_DECIDED pairs that are not ties P is that of the exact sign-flip test
 * (sign_flip_upper()) instead: arms that are equally good change places without a difference. With fewer than
 * BOUNDED_DECIDED the interval is that of bounded_mean.h, which leaves room for outcomes that have not come
 * yet, and covers more than it says. Without pairs P is 1 and the interval everything. The measured coverage
 * and level stand in DEVELOPERS.md. */
MatchEstimate match_estimate(const PairCounts *counts, double confidence);

/* How many pairs a new match with the spread of this one needs to tell a true difference of `effect` Elo from
 * none, two-sided at level alpha, with that power (both 0 to 1): (z(1 - alpha/2) + z(power))^2 variance /
 * effect^2, rounded up (e-Handbook, 7.2.2.2). The effect is one that would matter, and never the one that was
 * seen: the power for that says no more than P does (J. Hoenig, D. Heisey, "The Abuse of Power", The American
 * Statistician 55, 2001). Infinite below 2 pairs. */
double match_pairs_needed(const PairCounts *counts, double effect, double alpha, double power);

/* P of the hypothesis that the arms differ by `margin` Elo (above 0) or more, the alternative being that they
 * are equivalent: the greater of two one-sided tests, D. Schuirmann, "A comparison of the two one-sided tests
 * procedure and the power approach for assessing the equivalence of average bioavailability", Journal of
 * Pharmacokinetics and Biopharmaceutics 15, 1987. Student's t or, as for the interval, bounded_mean.h. 1
 * below 2 pairs. */
double match_equivalence(const PairCounts *counts, double margin);

/* For people: "+12.3", "below -800", "above +800"; an interval is "-3.0 to +15.2". Beyond that a score says
 * how little was lost and no more how strong somebody is. */
enum { ELO_SHOWN_MAX = 800, ELO_TEXT_SIZE = 48 };
const char *elo_text(double elo, char text[ELO_TEXT_SIZE]);
const char *elo_interval_text(Interval elo, char text[ELO_TEXT_SIZE]);

/* ------------------------------------------------------------------------------ the sequential test
 * A. Wald, "Sequential Tests of Statistical Hypotheses", Annals of Mathematical Statistics 16, 1945, made for
 * two hypotheses about the mean alone: the shape of the distribution over the five outcomes, which neither
 * hypothesis names, is set to what fits the data best under each (X. Li, J. Liu, Z. Ying, "Generalized
 * Sequential Probability Ratio Test for Separate Families of Hypotheses", Sequential Analysis 33, 2014; the
 * constrained fit as in A. B. Owen, "Empirical Likelihood", 2001). */

typedef struct SequentialTest {
    double null_elo, alternative_elo; /* two hypotheses of how much A is better; the second is greater */
    double false_alarm, miss;         /* bounds for wrongly taking the alternative, and the null hypothesis */
} SequentialTest;

typedef enum Verdict { VERDICT_GO_ON, VERDICT_NULL, VERDICT_ALTERNATIVE } Verdict;

/* The logarithm of the ratio of the two likelihoods. */
double sequential_ratio(const SequentialTest *test, const PairCounts *counts);

/* Wald's bounds for it: the null hypothesis is taken at or below `low` = log(miss), the alternative at or
 * above `high` = -log(false_alarm). By his inequalities the rates of error are then at most those. His usual
 * approximations, log(miss / (1 - false_alarm)) and log((1 - miss) / false_alarm), are a little nearer, but
 * promise only false_alarm / (1 - miss) and miss / (1 - false_alarm). */
Interval sequential_bounds(const SequentialTest *test);

Verdict sequential_verdict(const SequentialTest *test, const PairCounts *counts);

/* ------------------------------------------------------------------------------------------------ strata */

typedef struct Heterogeneity {
    double q;         /* Cochran's Q: squared deviations from the weighted mean in standard errors */
    double degrees;   /* strata that take part, less one */
    double p_value;   /* of all strata having the same true score; 1 if there is nothing to compare */
    double i_squared; /* (Q - degrees) / Q, 0 to 1: an estimate, and no finding while P is not small */
} Heterogeneity;

/* Whether the effect differs between strata. Those with fewer than HETEROGENEITY_DECIDED pairs that are not
 * ties take no part: so few tell nothing of their own spread, by which Q weighs. W. G. Cochran, "The
 * Combination of Estimates from Different Experiments", Biometrics 10, 1954; I squared after J. Higgins, S.
 * Thompson, Statistics in Medicine 21, 2002. */
enum { HETEROGENEITY_DECIDED = 10 };
Heterogeneity match_heterogeneity(const PairCounts *strata, size_t count);

#endif
