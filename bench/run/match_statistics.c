#include "bench/run/match_statistics.h"

#include <math.h>

/* The five outcomes with how often each was seen, as real numbers. */
typedef struct Shares {
    double weight[PAIR_OUTCOMES], total;
} Shares;

static double outcome_score(int outcome)
{
    return (double)outcome / (PAIR_OUTCOMES - 1);
}

/* Each outcome counted `extra` times more than it was seen. */
static Shares shares_of(const PairCounts *counts, double extra)
{
    Shares shares = {.total = 0};
    for (int i = 0; i < PAIR_OUTCOMES; i++) {
        shares.weight[i] = (double)counts->n[i] + extra;
        shares.total += shares.weight[i];
    }
    return shares;
}

static double shares_mean(const Shares *shares)
{
    double sum = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        sum += shares->weight[i] * outcome_score(i);
    return sum / shares->total;
}

/* The unbiased sample variance. */
static double shares_variance(const Shares *shares)
{
    double centre = shares_mean(shares), sum = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        sum += shares->weight[i] * pow(outcome_score(i) - centre, 2);
    return sum / (shares->total - 1);
}

uint64_t pair_total(const PairCounts *counts)
{
    uint64_t total = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        total += counts->n[i];
    return total;
}

double elo_from_score(double score)
{
    return 400 * log10(score / (1 - score));
}

double score_from_elo(double elo)
{
    return 1 / (1 + pow(10, -elo / 400));
}

/* With half a pair more, spread evenly over the outcomes. */
static double guarded_variance(const PairCounts *counts)
{
    Shares guarded = shares_of(counts, 0.5 / PAIR_OUTCOMES);
    return shares_variance(&guarded);
}

MatchEstimate match_estimate(const PairCounts *counts, double confidence)
{
    MatchEstimate estimate = {.pairs = pair_total(counts),
                              .score = NAN,
                              .standard_error = INFINITY,
                              .score_interval = {0, 1},
                              .elo = NAN,
                              .elo_interval = {-INFINITY, INFINITY},
                              .superiority = 0.5,
                              .p_value = 1};
    if (estimate.pairs == 0)
        return estimate;
    double n = (double)estimate.pairs;
    Shares shares = shares_of(counts, 0);
    estimate.score = shares_mean(&shares);
    estimate.elo = elo_from_score(estimate.score);
    if (estimate.pairs == 1)
        return estimate;
    estimate.standard_error = sqrt(guarded_variance(counts) / n);
    double half = student_quantile(0.5 + confidence / 2, n - 1) * estimate.standard_error;
    estimate.score_interval = (Interval){fmax(0, estimate.score - half), fmin(1, estimate.score + half)};
    estimate.elo_interval =
        (Interval){elo_from_score(estimate.score_interval.low), elo_from_score(estimate.score_interval.high)};
    double z = (estimate.score - 0.5) / estimate.standard_error;
    estimate.superiority = normal_cdf(z);
    estimate.p_value = 2 * normal_cdf(-fabs(z));
    return estimate;
}

double match_pairs_needed(const PairCounts *counts, double alpha, double power)
{
    MatchEstimate estimate = match_estimate(counts, 0.95);
    double effect = estimate.score - 0.5;
    if (estimate.pairs < 2 || effect == 0)
        return INFINITY;
    double z = normal_quantile(1 - alpha / 2) + normal_quantile(power);
    return ceil(z * z * guarded_variance(counts) / (effect * effect));
}

/* The distribution over the outcomes with a given mean that makes what was seen most likely gives outcome i
 * the probability share[i] / (1 + tilt * (score[i] - mean)), Owen (2001), section 2.9. Finds the tilt by
 * bisection: the constraint falls with it, between the two values at which a probability is lost. */
static double tilt_to_mean(const Shares *shares, double mean)
{
    double low = -1 / (1 - mean), high = 1 / mean;
    for (int step = 0; step < 60; step++) {
        double tilt = (low + high) / 2, excess = 0;
        for (int i = 0; i < PAIR_OUTCOMES; i++) {
            double distance = outcome_score(i) - mean;
            excess += shares->weight[i] * distance / (1 + tilt * distance);
        }
        *(excess > 0 ? &low : &high) = tilt;
    }
    return (low + high) / 2;
}

double sequential_ratio(const SequentialTest *test, const PairCounts *counts)
{
    /* An outcome not seen yet is not an impossible one. */
    Shares shares = shares_of(counts, 1e-3);
    double mean0 = score_from_elo(test->elo0), mean1 = score_from_elo(test->elo1);
    double tilt0 = tilt_to_mean(&shares, mean0), tilt1 = tilt_to_mean(&shares, mean1);
    double ratio = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++) {
        double score = outcome_score(i);
        ratio += shares.weight[i] * log((1 + tilt0 * (score - mean0)) / (1 + tilt1 * (score - mean1)));
    }
    return ratio;
}

Interval sequential_bounds(const SequentialTest *test)
{
    return (Interval){log(test->beta), -log(test->alpha)};
}

Verdict sequential_verdict(const SequentialTest *test, const PairCounts *counts)
{
    double ratio = sequential_ratio(test, counts);
    Interval bounds = sequential_bounds(test);
    if (ratio <= bounds.low)
        return VERDICT_NULL;
    return ratio >= bounds.high ? VERDICT_ALTERNATIVE : VERDICT_GO_ON;
}

Heterogeneity match_heterogeneity(const PairCounts *strata, size_t count)
{
    double weights = 0, weighted = 0, q = 0, degrees = -1;
    for (size_t i = 0; i < count; i++) {
        MatchEstimate estimate = match_estimate(&strata[i], 0.95);
        if (estimate.pairs < 2)
            continue;
        double weight = 1 / pow(estimate.standard_error, 2);
        weights += weight;
        weighted += weight * estimate.score;
        degrees++;
    }
    if (degrees < 1)
        return (Heterogeneity){0, 0, 1, 0};
    for (size_t i = 0; i < count; i++) {
        MatchEstimate estimate = match_estimate(&strata[i], 0.95);
        if (estimate.pairs >= 2)
            q += pow((estimate.score - weighted / weights) / estimate.standard_error, 2);
    }
    return (Heterogeneity){q, degrees, chi_square_upper(q, degrees), q > degrees ? (q - degrees) / q : 0};
}
