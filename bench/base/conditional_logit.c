#include "bench/base/conditional_logit.h"

#include <math.h>
#include <string.h>

enum { ITERATIONS_MAX = 60, HALVINGS_MAX = 30 };

/* Newton's decrement, in units of log-likelihood, below which one more whole step leaves an error far below rounding, as
 * each squares it; and the size of a coefficient beyond which it runs away: one that always decides gains that little
 * only from about log(1e6) on. */
static const double small_gain = 1e-6, runaway = 12;

typedef struct Problem {
    const LogitSet *sets;
    size_t set_count;
    const double *covariates;
    int n;
} Problem;

static const double *alternative(const Problem *problem, const LogitSet *set, uint32_t i)
{
    return problem->covariates + (set->first + i) * (size_t)problem->n;
}

static double utility(const Problem *problem, const double *x, const double *coefficients)
{
    double sum = 0;
    for (int j = 0; j < problem->n; j++)
        sum += coefficients[j] * x[j];
    return sum;
}

/* The log-likelihood of a set. Adds its gradient to `score` and, unless that is null, the negative of its second
 * derivatives to `information`. Utilities are taken from the chosen one, so that nothing overflows that matters. */
static double add_set(const Problem *problem, const LogitSet *set, const double *coefficients, double *score,
                      double *information)
{
    int n = problem->n;
    const double *chosen = alternative(problem, set, set->chosen);
    double base = utility(problem, chosen, coefficients), total = 0;
    double mean[LOGIT_COVARIATES_MAX] = {0}, square[LOGIT_COVARIATES_MAX * LOGIT_COVARIATES_MAX] = {0};
    for (uint32_t i = 0; i < set->count; i++) {
        const double *x = alternative(problem, set, i);
        double weight = exp(utility(problem, x, coefficients) - base);
        total += weight;
        for (int j = 0; j < n; j++) {
            double difference = x[j] - chosen[j];
            mean[j] += weight * difference;
            for (int k = 0; k <= j && information != NULL; k++)
                square[j * n + k] += weight * difference * (x[k] - chosen[k]);
        }
    }
    for (int j = 0; j < n; j++) {
        score[j] -= mean[j] / total;
        for (int k = 0; k <= j && information != NULL; k++)
            information[j * n + k] += square[j * n + k] / total - mean[j] * mean[k] / (total * total);
    }
    return -log(total);
}

/* The likelihood at a point and how it bends there. */
typedef struct Slope {
    double log_likelihood;
    double score[LOGIT_COVARIATES_MAX];
    double information[LOGIT_COVARIATES_MAX * LOGIT_COVARIATES_MAX];
} Slope;

static Slope slope_at(const Problem *problem, const double *coefficients)
{
    Slope slope = {0};
    int n = problem->n;
    for (size_t i = 0; i < problem->set_count; i++)
        slope.log_likelihood +=
            add_set(problem, &problem->sets[i], coefficients, slope.score, slope.information);
    for (int j = 0; j < n; j++)
        for (int k = 0; k < j; k++)
            slope.information[k * n + j] = slope.information[j * n + k];
    return slope;
}

/* Moves along a step, halved until it does not lose. */
static bool advance(const Problem *problem, double *coefficients, const double *step, Slope *slope)
{
    double factor = 1;
    for (int halving = 0; halving < HALVINGS_MAX; halving++, factor /= 2) {
        double trial[LOGIT_COVARIATES_MAX];
        for (int j = 0; j < problem->n; j++)
            trial[j] = coefficients[j] + factor * step[j];
        Slope there = slope_at(problem, trial);
        if (there.log_likelihood >= slope->log_likelihood) {
            memcpy(coefficients, trial, sizeof *trial * (size_t)problem->n);
            *slope = there;
            return true;
        }
    }
    return false;
}

/* The middle of the sandwich: the squared scores of the clusters. */
static void add_clusters(const Problem *problem, LogitFit *fit, double *middle)
{
    int n = problem->n;
    for (size_t i = 0; i < problem->set_count; fit->clusters++) {
        double score[LOGIT_COVARIATES_MAX] = {0};
        uint64_t cluster = problem->sets[i].cluster;
        for (; i < problem->set_count && problem->sets[i].cluster == cluster; i++)
            add_set(problem, &problem->sets[i], fit->coefficients, score, NULL);
        for (int j = 0; j < n; j++)
            for (int k = 0; k < n; k++)
                middle[j * n + k] += score[j] * score[k];
    }
}

static void set_errors(const Problem *problem, const double *inverse, LogitFit *fit)
{
    int n = problem->n;
    double middle[LOGIT_COVARIATES_MAX * LOGIT_COVARIATES_MAX] = {0};
    add_clusters(problem, fit, middle);
    double correction = (double)fit->clusters / (double)(fit->clusters - 1);
    for (int j = 0; j < n; j++) {
        double variance = 0;
        for (int k = 0; k < n; k++)
            for (int l = 0; l < n; l++)
                variance += inverse[j * n + k] * middle[k * n + l] * inverse[l * n + j];
        fit->errors[j] = sqrt(inverse[j * n + j]);
        fit->clustered_errors[j] = fit->clusters > 1 ? sqrt(correction * variance) : NAN;
    }
}

bool conditional_logit(const LogitSet *sets, size_t set_count, const double *covariates, int covariate_count,
                       LogitFit *fit)
{
    const Problem problem = {sets, set_count, covariates, covariate_count};
    int n = covariate_count;
    *fit = (LogitFit){0};
    Slope slope = slope_at(&problem, fit->coefficients);
    fit->null_log_likelihood = slope.log_likelihood;
    for (fit->iterations = 1; fit->iterations <= ITERATIONS_MAX; fit->iterations++) {
        double step[LOGIT_COVARIATES_MAX] = {0}, gain = 0;
        double *inverse = slope.information;
        if (!symmetric_invert(inverse, n))
            return false;
        for (int j = 0; j < n; j++) {
            for (int k = 0; k < n; k++)
                step[j] += inverse[j * n + k] * slope.score[k];
            gain += step[j] * slope.score[j];
        }
        if (gain < small_gain) {
            for (int j = 0; j < n; j++)
                fit->coefficients[j] += step[j];
            slope = slope_at(&problem, fit->coefficients);
            fit->log_likelihood = slope.log_likelihood;
            if (!symmetric_invert(inverse, n))
                return false;
            set_errors(&problem, inverse, fit);
            return true;
        }
        if (!advance(&problem, fit->coefficients, step, &slope))
            return false;
        for (int j = 0; j < n; j++)
            if (fabs(fit->coefficients[j]) > runaway)
                return false;
    }
    return false;
}
