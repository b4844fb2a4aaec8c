#include "bench/run/after_stop.h"
#include "bench/base/random.h"

#include <math.h>

Interval time_uniform_interval(const PairCounts *counts, double confidence)
{
    static const double narrowest = 500;
    MatchEstimate estimate = match_estimate(counts, confidence);
    if (estimate.pairs < STOP_PAIRS_LEAST)
        return (Interval){0, 1};
    double alpha = 1 - confidence, n = (double)estimate.pairs;
    double deviation = estimate.standard_error * sqrt(n);
    double mixture = (-2 * log(alpha) + log(1 - 2 * log(alpha))) / narrowest, grown = n * mixture + 1;
    double half = deviation * sqrt(2 * grown / (n * n * mixture) * log(sqrt(grown) / alpha));
    return (Interval){fmax(0, estimate.score - half), fmin(1, estimate.score + half)};
}

/* A match as a random walk with normal steps of `block` pairs. */
typedef struct Walk {
    double middle, deviation; /* of the two hypotheses; of a pair's score */
    double low, high;         /* bounds of the sum of score - middle */
    double planned, block;    /* pairs */
} Walk;

/* G. Box, M. Muller, Annals of Mathematical Statistics 29, 1958. */
static double normal_step(Random *random)
{
    return sqrt(-2 * log(1 - random_unit(random))) * cos(2 * M_PI * random_unit(random));
}

static double mean_at_the_stop(const Walk *walk, double true_mean, Random *random)
{
    double pairs = 0, sum = 0, step = STOP_PAIRS_LEAST;
    do {
        step = fmin(step, walk->planned - pairs);
        pairs += step;
        sum += step * (true_mean - walk->middle) + sqrt(step) * walk->deviation * normal_step(random);
        step = walk->block;
    } while (pairs < walk->planned && sum > walk->low && sum < walk->high);
    return walk->middle + sum / pairs;
}

static double expected_mean(const Walk *walk, double true_mean)
{
    enum { MATCHES = 1000 };
    double sum = 0;
    for (uint64_t match = 0; match < MATCHES; match++) {
        Random random = random_for_job(1, match);
        sum += mean_at_the_stop(walk, true_mean, &random);
    }
    return sum / MATCHES;
}

double bias_adjusted_score(const PairCounts *counts, const SequentialTest *test, size_t planned)
{
    enum { ROUNDS = 4 };
    MatchEstimate estimate = match_estimate(counts, 0.95);
    if (estimate.pairs == 0)
        return NAN;
    double n = (double)estimate.pairs, variance = pow(estimate.standard_error, 2) * n;
    double null_mean = score_from_elo(test->null_elo), alternative = score_from_elo(test->alternative_elo);
    Interval bounds = sequential_bounds(test);
    /* The log likelihood ratio of two means of a normal variable. */
    double unit = variance / (alternative - null_mean);
    Walk walk = {.middle = (null_mean + alternative) / 2,
                 .deviation = sqrt(variance),
                 .low = bounds.low * unit,
                 .high = bounds.high * unit,
                 .planned = fmax(n, (double)planned),
                 .block = ceil(n / 50)};
    double adjusted = estimate.score;
    for (int round = 0; round < ROUNDS; round++) {
        double excess = expected_mean(&walk, adjusted) - estimate.score;
        adjusted = fmax(0, fmin(1, adjusted - excess));
    }
    return adjusted;
}
