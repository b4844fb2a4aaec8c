/* What can be said of a match that was stopped by what it showed. The fixed-sample P value, interval and mean
 * are then no longer what they are called: the match ends when they look good. */
#ifndef PAWNVANE_AFTER_STOP_H
#define PAWNVANE_AFTER_STOP_H

#include "bench/run/experiment.h"

/* The interval of the mean score that holds at all numbers of pairs from STOP_PAIRS_LEAST on at once, so also
 * at the one at which somebody stopped for whatever reason: the normal mixture of H. Robbins, "Statistical
 * Methods Related to the Law of the Iterated Logarithm", Annals of Mathematical Statistics 41, 1970, in the
 * form of S. Howard, A. Ramdas, J. McAuliffe, J. Sekhon, "Time-uniform, Nonparametric, Nonasymptotic
 * Confidence Sequences", Annals of Statistics 49, 2021, section 3.2, with the variance seen in place of a
 * known one (I. Waudby-Smith, D. Arbour, R. Sinha, E. Kennedy, A. Ramdas, "Time-uniform Central Limit Theory
 * and Asymptotic Confidence Sequences", Annals of Statistics 52, 2024). Narrowest near 500 pairs. At one
 * number of pairs alone it covers more than it says. With fewer pairs than STOP_PAIRS_LEAST it is 0 to 1. */
Interval time_uniform_interval(const PairCounts *counts, double confidence);

/* The mean score without what stopping added to it: that true mean from which matches under the same test,
 * with the spread seen and at most `planned` pairs, end with a mean like this one on average. J. Whitehead,
 * "On the Bias of Maximum Likelihood Estimation Following a Sequential Test", Biometrika 73, 1986; the
 * expectation is simulated with a fixed seed, to about a tenth of the standard error. NaN without a pair. */
double bias_adjusted_score(const PairCounts *counts, const SequentialTest *test, size_t planned);

#endif
