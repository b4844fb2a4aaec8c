#include "bench/run/match_statistics.h"

#include "bench/base/bounded_mean.h"

#include <math.h>
#include <stdio.h>

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

static uint64_t decided_pairs(const PairCounts *counts)
{
    return pair_total(counts) - counts->n[PAIR_OUTCOMES / 2];
}

static void count_values(const PairCounts *counts, Counted values[PAIR_OUTCOMES])
{
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        values[i] = (Counted){outcome_score(i), counts->n[i]};
}

static const Interval score_bounds = {0, 1};

/* Few pairs are not ties. */
static void test_exactly(MatchEstimate *estimate, const PairCounts *counts)
{
    int differences[EXACT_DECIDED], mirrored[EXACT_DECIDED], count = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        for (uint64_t k = 0; i != PAIR_OUTCOMES / 2 && k < counts->n[i]; k++) {
            differences[count] = i - PAIR_OUTCOMES / 2;
            mirrored[count] = -differences[count];
            count++;
        }
    estimate->p_upper = sign_flip_upper(differences, (size_t)count);
    estimate->p_value = two_sided(estimate->p_upper, sign_flip_upper(mirrored, (size_t)count));
}

static void test_by_student(MatchEstimate *estimate)
{
    double degrees = (double)estimate->pairs - 1, t = (estimate->score - 0.5) / estimate->standard_error;
    estimate->p_upper = student_upper(t, degrees);
    estimate->p_value = two_sided(estimate->p_upper, student_upper(-t, degrees));
}

static Interval score_interval(const MatchEstimate *estimate, const PairCounts *counts, double confidence)
{
    if (estimate->decided < BOUNDED_DECIDED) {
        Counted values[PAIR_OUTCOMES];
        count_values(counts, values);
        return bounded_mean_interval(values, PAIR_OUTCOMES, score_bounds, confidence);
    }
    double t = student_quantile(0.5 + confidence / 2, (double)estimate->pairs - 1);
    double half = t * estimate->standard_error;
    return (Interval){fmax(0, estimate->score - half), fmin(1, estimate->score + half)};
}

MatchEstimate match_estimate(const PairCounts *counts, double confidence)
{
    MatchEstimate estimate = {.pairs = pair_total(counts),
                              .decided = decided_pairs(counts),
                              .score = NAN,
                              .standard_error = INFINITY,
                              .score_interval = score_bounds,
                              .elo = NAN,
                              .elo_interval = {-INFINITY, INFINITY},
                              .p_upper = 1,
                              .p_value = 1};
    if (estimate.pairs == 0)
        return estimate;
    Shares shares = shares_of(counts, 0);
    estimate.score = shares_mean(&shares);
    estimate.elo = elo_from_score(estimate.score);
    if (estimate.pairs > 1)
        estimate.standard_error = sqrt(guarded_variance(counts) / (double)estimate.pairs);
    if (estimate.decided < EXACT_DECIDED)
        test_exactly(&estimate, counts);
    else
        test_by_student(&estimate);
    estimate.score_interval = score_interval(&estimate, counts, confidence);
    estimate.elo_interval =
        (Interval){elo_from_score(estimate.score_interval.low), elo_from_score(estimate.score_interval.high)};
    return estimate;
}

double match_pairs_needed(const PairCounts *counts, double effect, double alpha, double power)
{
    if (pair_total(counts) < 2)
        return INFINITY;
    double z = normal_quantile(1 - alpha / 2) + normal_quantile(power);
    return ceil(pow(z / (score_from_elo(effect) - 0.5), 2) * guarded_variance(counts));
}

double match_equivalence(const PairCounts *counts, double margin)
{
    MatchEstimate estimate = match_estimate(counts, 0.95);
    double low = score_from_elo(-margin), high = score_from_elo(margin);
    if (estimate.pairs < 2)
        return 1;
    if (estimate.decided >= BOUNDED_DECIDED) {
        double degrees = (double)estimate.pairs - 1;
        return fmax(student_upper((estimate.score - low) / estimate.standard_error, degrees),
                    student_upper((high - estimate.score) / estimate.standard_error, degrees));
    }
    Counted values[PAIR_OUTCOMES], mirrored[PAIR_OUTCOMES];
    count_values(counts, values);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        mirrored[i] = (Counted){-values[i].value, values[i].count};
    return fmax(bounded_mean_above(values, PAIR_OUTCOMES, score_bounds.low, low),
                bounded_mean_above(mirrored, PAIR_OUTCOMES, -score_bounds.high, -high));
}

const char *elo_text(double elo, char text[ELO_TEXT_SIZE])
{
    if (isnan(elo))
        snprintf(text, ELO_TEXT_SIZE, "-");
    else if (fabs(elo) > ELO_SHOWN_MAX)
        snprintf(text, ELO_TEXT_SIZE, elo < 0 ? "below -%d" : "above +%d", ELO_SHOWN_MAX);
    else
        snprintf(text, ELO_TEXT_SIZE, "%+.1f", elo);
    return text;
}

const char *elo_interval_text(Interval elo, char text[ELO_TEXT_SIZE])
{
    char low[ELO_TEXT_SIZE], high[ELO_TEXT_SIZE];
    snprintf(text, ELO_TEXT_SIZE, "%.20s to %.20s", elo_text(elo.low, low), elo_text(elo.high, high));
    return text;
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
    double mean0 = score_from_elo(test->null_elo), mean1 = score_from_elo(test->alternative_elo);
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
    return (Interval){log(test->miss), -log(test->false_alarm)};
}

Verdict sequential_verdict(const SequentialTest *test, const PairCounts *counts)
{
    double ratio = sequential_ratio(test, counts);
    Interval bounds = sequential_bounds(test);
    if (ratio <= bounds.low)
        return VERDICT_NULL;
    return ratio >= bounds.high ? VERDICT_ALTERNATIVE : VERDICT_GO_ON;
}

/* B. Welch's P for Q over `count` strata with these weights, and pairs - 1 degrees of freedom each. */
static double welch_p(double q, const double *weights, const double *degrees, size_t count,
                      double all_weights)
{
    double k = (double)count, uncertain = 0;
    for (size_t i = 0; i < count; i++)
        uncertain += pow(1 - weights[i] / all_weights, 2) / degrees[i];
    double f = q / (k - 1) / (1 + 2 * (k - 2) / (k * k - 1) * uncertain);
    return f_upper(f, k - 1, (k * k - 1) / (3 * uncertain));
}

Heterogeneity match_heterogeneity(const PairCounts *strata, size_t count)
{
    double weights[count ? count : 1], degrees[count ? count : 1];
    double all_weights = 0, weighted = 0, squares = 0;
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        if (decided_pairs(&strata[i]) < HETEROGENEITY_DECIDED)
            continue;
        Shares shares = shares_of(&strata[i], 0);
        double score = shares_mean(&shares), weight = shares.total / guarded_variance(&strata[i]);
        all_weights += weight;
        weighted += weight * score;
        squares += weight * score * score;
        degrees[used] = shares.total - 1;
        weights[used++] = weight;
    }
    if (used < 2)
        return (Heterogeneity){0, 0, 1, 0};
    double q = fmax(0, squares - weighted * weighted / all_weights), freedom = (double)used - 1;
    return (Heterogeneity){q, freedom, welch_p(q, weights, degrees, used, all_weights),
                           q > freedom ? (q - freedom) / q : 0};
}
