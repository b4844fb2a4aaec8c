/* Odds ratios over strata: does one yes-no answer foretell another among cases that are alike otherwise? Pure
 * functions. Logarithms are natural. */
#ifndef PAWNVANE_ODDS_RATIO_H
#define PAWNVANE_ODDS_RATIO_H

#include "bench/base/statistics.h"

#include <stdbool.h>

/* A two-by-two table: counts by row and column. The odds ratio is [0][0] * [1][1] / ([0][1] * [1][0]). */
typedef struct Stratum {
    double cell[2][2];
    uint64_t cluster; /* strata of one cluster may depend on each other */
} Stratum;

/* Whether no row and no column is empty: other strata say nothing about the odds ratio. */
bool stratum_informs(const Stratum *stratum);

typedef struct OddsRatio {
    double estimate;   /* NaN if there is none: no stratum informs, or one diagonal is empty in all of them */
    double log_error;  /* the standard error of its logarithm */
    Interval interval; /* at the confidence asked for */
} OddsRatio;

/* The common odds ratio of N. Mantel and W. Haenszel, "Statistical aspects of the analysis of data from retrospective
 * studies of disease", Journal of the National Cancer Institute 22, 1959; its error after J. Robins, N. Breslow and
 * S. Greenland, "Estimators of the Mantel-Haenszel variance consistent in both sparse data and large-strata limiting
 * models", Biometrics 42, 1986: good for few large strata and for many small ones. For a single table these are the
 * cross-product ratio and the error of B. Woolf (Annals of Human Genetics 19, 1955). */
OddsRatio mantel_haenszel(const Stratum *strata, size_t count, double confidence);

/* The ratio and the logarithm's error as an estimate with its interval. */
OddsRatio odds_ratio_from(double log_estimate, double log_error, double confidence);

/* What one unit that may depend on others of its cluster adds to an estimate's deviation from the truth. */
typedef struct Influence {
    uint64_t cluster;
    double value;
} Influence;

/* What each stratum adds to the deviation of the logarithm of its Mantel-Haenszel estimate, times `factor`: its term
 * of the estimating equation sum(ad/n - ratio * bc/n) = 0, linearised. Fills `count` places. */
void mantel_haenszel_influence(const Stratum *strata, size_t count, double estimate, double factor,
                               Influence *influences);

/* The variance of an estimate if the clusters are independent of each other: the sum over them of the squared sums (K.-Y.
 * Liang, S. Zeger, Biometrika 73, 1986). Sorts the influences. */
double clustered_variance(Influence *influences, size_t count);

/* Whether the strata have one odds ratio in common: a chi-square statistic (N. Breslow, N. Day, Statistical Methods
 * in Cancer Research 1, 1980, section 4.4) with the correction of R. Tarone, "On heterogeneity tests based on efficient
 * scores", Biometrika 72, 1985. Only strata that inform are used. With strata of a few cases each it is not to be
 * trusted: chi-square is then a poor guide. */
typedef struct Homogeneity {
    double chi_square;
    size_t degrees; /* strata that inform, less one */
    double p;       /* NaN without degrees */
} Homogeneity;

Homogeneity breslow_day_tarone(const Stratum *strata, size_t count, double odds_ratio);

/* How strongly something unmeasured would have to go with both answers, as a risk ratio, to explain an odds ratio away
 * (T. VanderWeele, P. Ding, "Sensitivity analysis in observational research: introducing the E-value", Annals of
 * Internal Medicine 167, 2017; for outcomes that are not rare the square root of the odds ratio stands for the risk
 * ratio). 1 for an odds ratio of 1. */
double e_value(double odds_ratio);

/* The same for the end of the interval that is nearer to 1; 1 if the interval holds 1. */
double e_value_of_interval(Interval interval);

#endif
