/* The mean of values between two bounds, from a sample that may not have seen the rare ones: where nearly all
 * values are alike, their spread says nothing of those that have not come yet, and the bounds must.
 *
 * One more value, at the upper bound, is added to the sample, and the share that each value has in the
 * population is given the distribution of the spacings of uniform numbers: the mean that results is exceeded
 * by the true one with at most the probability asked for. N. Gaffke, "Three test statistics for a
 * nonparametric one-sided hypothesis on the mean of a nonnegative variable", Mathematical Methods of
 * Statistics 14, 2005; as a bound, E. Learned-Miller, P. Thomas, "A New Confidence Interval for the Mean of a
 * Bounded Random Variable", arXiv 1905.06208, 2019. For a proportion it is the interval of C. Clopper and E.
 * Pearson, Biometrika 26, 1934; if all of n values are alike, it leaves room for 3.7 / n of the others: the
 * rule of three (J. Hanley, A. Lippman-Hand, "If Nothing Goes Wrong, Is Everything All Right?", Journal of
 * the American Medical Association 249, 1983) for two sides. That the level holds for every population is
 * conjectured and not proved; no simulation has contradicted it, nor does `make statistics`. It is cautious:
 * its intervals cover more than they say. */
#ifndef PAWNVANE_BOUNDED_MEAN_H
#define PAWNVANE_BOUNDED_MEAN_H

#include "bench/base/statistics.h"

#include <stddef.h>
#include <stdint.h>

/* A value and how often it was seen. */
typedef struct Counted {
    double value;
    uint64_t count;
} Counted;

/* P of the hypothesis that the true mean is at most `mean` (between the bounds), the greater being the
 * alternative; about four digits. `lower` is the bound of the values. */
double bounded_mean_above(const Counted *values, size_t count, double lower, double mean);

/* The two-sided interval; all that lies between the bounds if there is no value. */
Interval bounded_mean_interval(const Counted *values, size_t count, Interval bounds, double confidence);

#endif
