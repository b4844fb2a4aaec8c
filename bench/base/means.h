/* Means with their errors, where the values are few and skewed, or come in clusters: pure functions, no
 * state. */
#ifndef PAWNVANE_MEANS_H
#define PAWNVANE_MEANS_H

#include "bench/base/statistics.h"

#include <stdbool.h>

/* The mean of single values, and what it says of the mean of where they come from. */
typedef struct BootstrapMean {
    double mean;       /* NaN of no values */
    Interval interval; /* without an end on either side where the values do not say enough */
    double p_value;    /* two-sided, that the true mean is 0; 2 / (resamples + 1) at least */
} BootstrapMean;

/* The bootstrap-t interval: the mean is taken to be as many of its standard errors off the truth as the means
 * of resamples, each with the standard error of its own, are off the mean (B. Efron, R. Tibshirani, An
 * Introduction to the Bootstrap, 1993, chapter 12). There are two kinds, and this one goes as far as the
 * wider of them on either side: the equal-tailed one, which knows of skewness but is too short where values
 * are often the same, and the symmetric one (P. Hall, "On Symmetric Bootstrap Confidence Intervals", Journal
 * of the Royal Statistical Society B 50, 1988), of which it is the other way round. The p-value is the
 * greater of both: one more than the resamples as far off, by one more than all resamples (A. Davison, D.
 * Hinkley, Bootstrap Methods and their Application, 1997, chapter 4). So the interval leaves 0 out exactly
 * where the p-value is 1 - confidence or less.
 *
 * What it covers in simulated worlds is what tests/statistics/contrast_worlds.c prints. The same values, in
 * the same order, and the same seed give the same result. There are 2 / (1 - confidence) resamples or more.
 * False if memory runs out. */
bool bootstrap_mean(const double *values, size_t count, double confidence, int resamples, uint64_t seed,
                    BootstrapMean *result);

/* The mean of values that come in clusters, such as the positions of a game. */
typedef struct ClusteredMean {
    double mean;       /* of all values, each counted once */
    double error;      /* standard error; NaN of fewer than two clusters */
    Interval interval; /* NaN of the same */
} ClusteredMean;

/* Values of different clusters must be independent, those of one need not. The error is the one that holds
 * whatever goes on within clusters (K.-Y. Liang, S. Zeger, "Longitudinal data analysis using generalized
 * linear models", Biometrika 73, 1986), times the usual g / (g - 1) for g clusters in the variance; the
 * interval is Student's with g - 1 degrees. sums[i] and sizes[i] are the sum and the number of the values of
 * cluster i; one without values does not count. */
ClusteredMean clustered_mean(const double *sums, const size_t *sizes, size_t clusters, double confidence);

/* The ratio of two totals that come in the same clusters. */
typedef struct ClusteredRatio {
    double ratio;      /* NaN if the second total is 0 */
    Interval interval; /* NaN if either is 0, or of fewer than two clusters */
} ClusteredRatio;

/* above[i] and below[i] are what cluster i adds to the totals, 0 or more; `clusters` that have anything to add are
 * independent of each other, and `count` may have others. The error of the ratio's logarithm is that of its linear part,
 * sum (above[i] / above - below[i] / below)^2 times g / (g - 1) for g clusters: W. G. Cochran, Sampling Techniques,
 * 3rd edition, 1977, chapter 6, from memory; of counts it is that of a Poisson regression on which of the two it is,
 * with errors clustered as above. The interval is Student's with g - 1 degrees, on the logarithm. */
ClusteredRatio clustered_ratio(const double *above, const double *below, size_t count, size_t clusters,
                               double confidence);

#endif
