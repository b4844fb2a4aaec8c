/* Which of several alternatives is chosen, given what each is like: D. McFadden, "Conditional logit analysis of
 * qualitative choice behavior", in P. Zarembka (ed.), Frontiers in Econometrics, 1974. The probability of an alternative is
 * proportional to exp(coefficients * its covariates). */
#ifndef PAWNVANE_CONDITIONAL_LOGIT_H
#define PAWNVANE_CONDITIONAL_LOGIT_H

#include "bench/base/symmetric.h"

#include <stddef.h>
#include <stdint.h>

enum { LOGIT_COVARIATES_MAX = SYMMETRIC_MAX };

/* One choice. */
typedef struct LogitSet {
    size_t first;     /* alternative: index into the covariates, in units of alternatives */
    uint32_t count;   /* alternatives */
    uint32_t chosen;  /* 0 .. count - 1 */
    uint64_t cluster; /* choices of one cluster may depend on each other; those of a cluster stand together */
} LogitSet;

typedef struct LogitFit {
    double coefficients[LOGIT_COVARIATES_MAX];
    double errors[LOGIT_COVARIATES_MAX]; /* if all choices are independent of each other */
    /* If the clusters are: the sandwich of P. Huber (1967) and H. White (Econometrica 50, 1982), summed by
     * cluster as K.-Y. Liang and S. Zeger do (Biometrika 73, 1986), times G / (G - 1) for G clusters. */
    double clustered_errors[LOGIT_COVARIATES_MAX];
    double log_likelihood, null_log_likelihood; /* fitted; all alternatives alike */
    size_t clusters;
    int iterations;
} LogitFit;

/* Fits by Newton's method, from zero, with steps halved while they lose. `covariates` holds the alternatives one after the
 * other, `covariate_count` numbers each. False if there is no fit: a covariate that never differs within a set, one
 * that always decides, or memory that runs out. */
bool conditional_logit(const LogitSet *sets, size_t set_count, const double *covariates, int covariate_count,
                       LogitFit *fit);

#endif
