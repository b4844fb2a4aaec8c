/* Statistics of paired games against published tables and worked examples, and by simulation with fixed
 * seeds. All published values here are from memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <math.h>

#include "bench/base/random.h"
#include "bench/run/experiment.h"
#include "bench/run/match_statistics.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

/* ---------------------------------------------------------------------------------------- published values
 */

static void test_student(void **state)
{
    (void)state;
    /* NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: upper critical values. */
    static const double p[] = {0.90, 0.95, 0.975, 0.99, 0.995};
    static const struct {
        double degrees, critical[5];
    } table[] = {{1, {3.078, 6.314, 12.706, 31.821, 63.657}}, {2, {1.886, 2.920, 4.303, 6.965, 9.925}},
                 {6, {1.440, 1.943, 2.447, 3.143, 3.707}},    {10, {1.372, 1.812, 2.228, 2.764, 3.169}},
                 {30, {1.310, 1.697, 2.042, 2.457, 2.750}},   {100, {1.290, 1.660, 1.984, 2.364, 2.626}}};
    static const double three[] = {1.638, 2.353, 3.182, 4.541, 5.841};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        for (int j = 0; j < 5; j++) {
            assert_near(student_quantile(p[j], table[i].degrees), table[i].critical[j], 1e-3);
            assert_near(student_quantile(1 - p[j], table[i].degrees), -table[i].critical[j], 1e-3);
        }
    }
    for (int j = 0; j < 5; j++)
        assert_near(student_quantile(p[j], 3), three[j], 0.05);
    assert_near(student_quantile(0.975, 1e9), normal_quantile(0.975), 1e-6);
    /* 1.3.5.2, data set ZARR13: 195 values, mean 9.261460, standard deviation 0.022789; the 95 % limits are
     * 9.258242 and 9.264679. */
    double half = student_quantile(0.975, 194) * 0.022789 / sqrt(195);
    assert_near(9.261460 - half, 9.258242, 1.1e-6);
    assert_near(9.261460 + half, 9.264679, 1.1e-6);
}

static void test_elo(void **state)
{
    (void)state;
    /* The logistic curve at 1:1, 10:1 and 100:1 odds, by its definition. */
    assert_near(elo_from_score(0.5), 0, 0);
    assert_near(elo_from_score(10.0 / 11), 400, 1e-9);
    assert_near(elo_from_score(1.0 / 101), -800, 1e-9);
    assert_near(score_from_elo(400), 10.0 / 11, 1e-12);
    assert_true(elo_from_score(1) == INFINITY && elo_from_score(0) == -INFINITY);
    for (double elo = -700; elo <= 700; elo += 7)
        assert_near(elo_from_score(score_from_elo(elo)), elo, 1e-8);
}

static void test_sequential_bounds(void **state)
{
    (void)state;
    /* The e-Handbook's example of sequential sampling (6.2.3, after Wald): alpha 0.05, beta 0.10, fractions
     * defective 0.01 and 0.10; the lines are -0.939 + 0.0397 n and 1.205 + 0.0397 n. Its bounds, the usual
     * approximations, promise alpha / (1 - beta) and beta / (1 - alpha), and are asked for as such here. */
    SequentialTest test = {elo_from_score(0.01), elo_from_score(0.10), 0.05 / 0.90, 0.10 / 0.95};
    Interval bounds = sequential_bounds(&test);
    double k = log(0.10 * 0.99 / (0.01 * 0.90));
    assert_near(bounds.low / k, -0.939, 5e-4);
    assert_near(bounds.high / k, 1.205, 5e-4);
    /* Its table: without a defect the lot is accepted at the 24th item; the second defect of two rejects. A
     * pair that A wins outright stands for a defect, one that it loses outright for a good item. */
    assert_int_equal(sequential_verdict(&test, &(PairCounts){{23, 0, 0, 0, 0}}), VERDICT_GO_ON);
    assert_int_equal(sequential_verdict(&test, &(PairCounts){{24, 0, 0, 0, 0}}), VERDICT_NULL);
    assert_int_equal(sequential_verdict(&test, &(PairCounts){{0, 0, 0, 0, 1}}), VERDICT_GO_ON);
    assert_int_equal(sequential_verdict(&test, &(PairCounts){{0, 0, 0, 0, 2}}), VERDICT_ALTERNATIVE);
    assert_int_equal(sequential_verdict(&test, &(PairCounts){{0}}), VERDICT_GO_ON);
}

static void test_sequential_ratio(void **state)
{
    (void)state;
    SequentialTest test = {0, 10, 0.05, 0.05};
    /* With two outcomes it is Wald's ratio for the binomial distribution. */
    double p0 = score_from_elo(0), p1 = score_from_elo(10);
    assert_near(sequential_ratio(&test, &(PairCounts){{480, 0, 0, 0, 520}}),
                520 * log(p1 / p0) + 480 * log((1 - p1) / (1 - p0)), 1e-3);
    /* With many pairs and near hypotheses it is that of the normal distribution with the variance seen. */
    PairCounts counts = {{500, 2100, 4600, 2200, 600}};
    MatchEstimate estimate = match_estimate(&counts, 0.95);
    double variance = pow(estimate.standard_error, 2) * (double)estimate.pairs;
    double normal = (double)estimate.pairs * (p1 - p0) * (2 * estimate.score - p0 - p1) / (2 * variance);
    assert_near(sequential_ratio(&test, &counts), normal, 0.02 * fabs(normal));
    /* Seen from the other side it is the same test. */
    SequentialTest mirrored = {-10, 0, 0.05, 0.05};
    PairCounts reversed = {{600, 2200, 4600, 2100, 500}};
    assert_near(sequential_ratio(&mirrored, &reversed), -sequential_ratio(&test, &counts), 1e-6);
}

static void test_pairs_needed(void **state)
{
    (void)state;
    /* The e-Handbook, 7.2.2.2: (1.960 + 1.282)^2 = 10.51 observations to see a shift of one standard
     * deviation at the two-sided 5 % level with power 0.90; with power 0.80 (1.960 + 0.842)^2 = 7.85. Half of
     * these pairs are won and half drawn: mean 3/4, standard deviation 1/4. */
    PairCounts counts = {{0, 0, 1000000, 0, 1000000}};
    assert_near(match_pairs_needed(&counts, 0.05, 0.90), 11, 0);
    assert_near(match_pairs_needed(&counts, 0.05, 0.80), 8, 0);
    assert_true(isinf(match_pairs_needed(&(PairCounts){{5, 0, 0, 0, 5}}, 0.05, 0.80)));
    assert_true(isinf(match_pairs_needed(&(PairCounts){{0}}, 0.05, 0.80)));
}

/* ----------------------------------------------------------------------------------------------- the edges
 */

static void test_estimate_by_hand(void **state)
{
    (void)state;
    /* 2 + 4 + 6 + 4 + 4 pairs: 0*2 + 1*4 + 2*6 + 3*4 + 4*4 = 44 of 80 half points. */
    PairCounts counts = {{2, 4, 6, 4, 4}};
    MatchEstimate estimate = match_estimate(&counts, 0.95);
    assert_int_equal(estimate.pairs, 20);
    assert_near(estimate.score, 0.55, 1e-12);
    assert_near(estimate.elo, 400 * log10(0.55 / 0.45), 1e-9);
    /* The variance with a tenth of a pair more of each outcome: 44 + 1 of 82 half points, squares by hand. */
    double n = 20.5, mean = 45 / (4 * n), squares = 0.1 * 30 + 4 + 6 * 4 + 4 * 9 + 4 * 16;
    double variance = (squares / 16 - n * mean * mean) / (n - 1);
    assert_near(estimate.standard_error, sqrt(variance / 20), 1e-12);
    double half = 2.093 * estimate.standard_error; /* e-Handbook, 1.3.6.7.2, 19 degrees */
    assert_near(estimate.score_interval.low, 0.55 - half, 1e-4);
    assert_near(estimate.score_interval.high, 0.55 + half, 1e-4);
    assert_near(estimate.superiority, normal_cdf(0.05 / estimate.standard_error), 1e-12);
    assert_near(estimate.p_value, 2 * (1 - estimate.superiority), 1e-12);
    /* The other arm sees it the other way round. */
    MatchEstimate other = match_estimate(&(PairCounts){{4, 4, 6, 4, 2}}, 0.95);
    assert_near(other.elo, -estimate.elo, 1e-9);
    assert_near(other.elo_interval.low, -estimate.elo_interval.high, 1e-9);
    assert_near(other.superiority, 1 - estimate.superiority, 1e-12);
}

static void test_little_data(void **state)
{
    (void)state;
    MatchEstimate none = match_estimate(&(PairCounts){{0}}, 0.95);
    assert_true(none.pairs == 0 && isnan(none.score) && none.superiority == 0.5 && none.p_value == 1);
    MatchEstimate one = match_estimate(&(PairCounts){{0, 0, 0, 0, 1}}, 0.95);
    assert_true(one.score == 1 && one.elo == INFINITY && one.elo_interval.low == -INFINITY &&
                one.p_value == 1);
    /* All alike is not certainty. */
    MatchEstimate drawn = match_estimate(&(PairCounts){{0, 0, 10, 0, 0}}, 0.95);
    assert_true(drawn.score_interval.low < 0.49 && drawn.score_interval.high > 0.51);
    MatchEstimate won = match_estimate(&(PairCounts){{0, 0, 0, 0, 4}}, 0.95);
    assert_true(won.score_interval.low < 0.9 && won.score_interval.high == 1);
}

static void test_heterogeneity(void **state)
{
    (void)state;
    /* Of two strata, Q is the square of the difference in standard errors of the difference. */
    PairCounts two[] = {{{10, 20, 40, 20, 10}}, {{5, 10, 40, 30, 15}}};
    MatchEstimate a = match_estimate(&two[0], 0.95), b = match_estimate(&two[1], 0.95);
    double z = (a.score - b.score) / hypot(a.standard_error, b.standard_error);
    Heterogeneity found = match_heterogeneity(two, 2);
    assert_near(found.q, z * z, 1e-9);
    assert_near(found.degrees, 1, 0);
    assert_near(found.p_value, 2 * (1 - normal_cdf(fabs(z))), 1e-9);
    assert_near(found.i_squared, (found.q - 1) / found.q, 1e-12);
    /* Strata without pairs take no part. */
    PairCounts gaps[] = {two[0], {{0}}, two[1], {{0, 0, 1, 0, 0}}};
    assert_near(match_heterogeneity(gaps, 4).q, found.q, 1e-12);
    assert_near(match_heterogeneity(gaps, 2).p_value, 1, 0);
}

/* --------------------------------------------------------------------------------------------- simulations
 */

enum { SIMULATED_MATCHES = 2000 };

/* Chances of the five outcomes. */
typedef struct Chances {
    double p[PAIR_OUTCOMES];
} Chances;

static double chances_mean(const Chances *chances)
{
    double sum = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        sum += chances->p[i] * i / 4;
    return sum;
}

static void play_pair(const Chances *chances, Random *random, PairCounts *counts)
{
    double drawn = random_unit(random);
    int outcome = 0;
    for (; outcome < PAIR_OUTCOMES - 1 && drawn >= chances->p[outcome]; outcome++)
        drawn -= chances->p[outcome];
    counts->n[outcome]++;
}

static PairCounts play_match(const Chances *chances, Random *random, int pairs)
{
    PairCounts counts = {{0}};
    for (int i = 0; i < pairs; i++)
        play_pair(chances, random, &counts);
    return counts;
}

static const Chances even = {{0.04, 0.20, 0.52, 0.20, 0.04}}, drawish = {{0.01, 0.09, 0.80, 0.09, 0.01}},
                     sharp = {{0.20, 0.10, 0.30, 0.15, 0.25}}, better = {{0.03, 0.15, 0.47, 0.27, 0.08}};

static void test_coverage(void **state)
{
    (void)state;
    static const Chances *const worlds[] = {&even, &drawish, &sharp, &better};
    static const int lengths[] = {50, 200, 1000};
    for (size_t world = 0; world < 4; world++) {
        for (size_t length = 0; length < 3; length++) {
            double truth = chances_mean(worlds[world]), elo = elo_from_score(truth);
            int covered = 0, elo_covered = 0;
            for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
                Random random = random_for_job(world * 10 + length, match);
                PairCounts counts = play_match(worlds[world], &random, lengths[length]);
                MatchEstimate e = match_estimate(&counts, 0.95);
                covered += e.score_interval.low <= truth && truth <= e.score_interval.high;
                elo_covered += e.elo_interval.low <= elo && elo <= e.elo_interval.high;
            }
            double share = (double)covered / SIMULATED_MATCHES;
            if (share < 0.93 || share > 0.97)
                fail_msg("world %zu, %d pairs: %.4f covered", world, lengths[length], share);
            assert_int_equal(covered, elo_covered);
        }
    }
}

static void test_p_values(void **state)
{
    (void)state;
    int rejected = 0, different = 0;
    for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
        Random random = random_for_job(77, match);
        PairCounts strata[6];
        for (int i = 0; i < 6; i++)
            strata[i] = play_match(&even, &random, 80);
        rejected += match_estimate(&strata[0], 0.95).p_value < 0.05;
        different += match_heterogeneity(strata, 6).p_value < 0.05;
    }
    assert_near((double)rejected / SIMULATED_MATCHES, 0.05, 0.015);
    assert_near((double)different / SIMULATED_MATCHES, 0.05, 0.015);
}

/* Four of five matches as long as match_pairs_needed() says for power 0.8 find the effect. */
static void test_power(void **state)
{
    (void)state;
    PairCounts expected = {{0}};
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        expected.n[i] = (uint64_t)(better.p[i] * 10000 + 0.5);
    int pairs = (int)match_pairs_needed(&expected, 0.05, 0.80), found = 0;
    for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
        Random random = random_for_job(5, match);
        PairCounts counts = play_match(&better, &random, pairs);
        found += match_estimate(&counts, 0.95).p_value < 0.05;
    }
    assert_near((double)found / SIMULATED_MATCHES, 0.80, 0.03);
}

/* The chances moved so that the mean is that of an Elo difference. */
static Chances at_elo(Chances chances, double elo)
{
    double shift = (score_from_elo(elo) - chances_mean(&chances)) * 2;
    chances.p[1] -= shift;
    chances.p[3] += shift;
    return chances;
}

/* The share of matches that stop with that verdict when the true difference is `elo`. */
static double verdict_share(const StopRule *rule, const Chances *world, double elo, Verdict verdict,
                            int matches)
{
    Chances chances = at_elo(*world, elo);
    int count = 0;
    for (uint64_t match = 0; match < (uint64_t)matches; match++) {
        Random random = random_for_job(99, match);
        PairCounts counts = {{0}};
        do
            play_pair(&chances, &random, &counts);
        while (!stop_reached(rule, &counts));
        count += sequential_verdict(&rule->test, &counts) == verdict;
    }
    return (double)count / matches;
}

static void test_sequential_errors(void **state)
{
    (void)state;
    static const struct {
        const Chances *world;
        double alternative_elo;
    } cases[] = {{&even, 30}, {&drawish, 15}, {&sharp, 60}};
    for (size_t i = 0; i < 3; i++) {
        StopRule rule = {.when = STOP_AT_DECISION, .test = {0, cases[i].alternative_elo, 0.05, 0.05}};
        double wrong_alternative =
            verdict_share(&rule, cases[i].world, 0, VERDICT_ALTERNATIVE, SIMULATED_MATCHES);
        double wrong_null =
            verdict_share(&rule, cases[i].world, cases[i].alternative_elo, VERDICT_NULL, SIMULATED_MATCHES);
        if (wrong_alternative >= 0.05 || wrong_null >= 0.05)
            fail_msg("world %zu: wrong alternative in %.4f, wrong null hypothesis in %.4f", i,
                     wrong_alternative, wrong_null);
    }
}

/* Stopping when the interval is narrow must not spoil its coverage. */
static void test_interval_stop(void **state)
{
    (void)state;
    StopRule rule = {.when = STOP_AT_INTERVAL, .half_width = 25};
    double truth = elo_from_score(chances_mean(&better));
    int covered = 0;
    for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
        Random random = random_for_job(123, match);
        PairCounts counts = {{0}};
        do
            play_pair(&better, &random, &counts);
        while (!stop_reached(&rule, &counts));
        Interval interval = match_estimate(&counts, 0.95).elo_interval;
        assert_true(interval.high - interval.low <= 50);
        covered += interval.low <= truth && truth <= interval.high;
    }
    assert_near((double)covered / SIMULATED_MATCHES, 0.95, 0.02);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_student),
        cmocka_unit_test(test_elo),
        cmocka_unit_test(test_sequential_bounds),
        cmocka_unit_test(test_sequential_ratio),
        cmocka_unit_test(test_pairs_needed),
        cmocka_unit_test(test_estimate_by_hand),
        cmocka_unit_test(test_little_data),
        cmocka_unit_test(test_heterogeneity),
        cmocka_unit_test(test_coverage),
        cmocka_unit_test(test_p_values),
        cmocka_unit_test(test_power),
        cmocka_unit_test(test_sequential_errors),
        cmocka_unit_test(test_interval_stop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
