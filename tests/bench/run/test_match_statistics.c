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

#include "bench/run/experiment.h"
#include "tests/statistics/match_worlds.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

/* ------------------------------------------------------------------------------------- published values */

static void test_student(void **state)
{
    (void)state;
    /* NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: upper critical values. */
    static const double p[] = {0.90, 0.95, 0.975, 0.99, 0.995};
    static const struct {
        double degrees, critical[5];
    } table[] = {{1, {3.078, 6.314, 12.706, 31.821, 63.657}}, {2, {1.886, 2.920, 4.303, 6.965, 9.925}},
                 {3, {1.638, 2.353, 3.182, 4.541, 5.841}},    {6, {1.440, 1.943, 2.447, 3.143, 3.707}},
                 {10, {1.372, 1.812, 2.228, 2.764, 3.169}},   {30, {1.310, 1.697, 2.042, 2.457, 2.750}},
                 {100, {1.290, 1.660, 1.984, 2.364, 2.626}}};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        for (int j = 0; j < 5; j++) {
            assert_near(student_quantile(p[j], table[i].degrees), table[i].critical[j], 5.1e-4);
            assert_near(student_quantile(1 - p[j], table[i].degrees), -table[i].critical[j], 5.1e-4);
            assert_near(student_upper(table[i].critical[j], table[i].degrees), 1 - p[j], 1.5e-4);
        }
    }
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
     * deviation at the two-sided 5 % level with power 0.90; with power 0.80 (1.960 + 0.842)^2 = 7.85. These
     * pairs have the standard deviation 1/4, which the effect shifts the score by. */
    PairCounts counts = {{0, 1000000, 0, 1000000, 0}};
    double effect = elo_from_score(0.75);
    assert_near(match_pairs_needed(&counts, effect, 0.05, 0.90), 11, 0);
    assert_near(match_pairs_needed(&counts, effect, 0.05, 0.80), 8, 0);
    /* What was seen does not matter: only its spread does. */
    assert_near(match_pairs_needed(&(PairCounts){{0, 0, 1000000, 0, 1000000}}, effect, 0.05, 0.90), 11, 0);
    assert_true(isinf(match_pairs_needed(&(PairCounts){{0}}, 5, 0.05, 0.80)));
}

/* -------------------------------------------------------------------------------------------- the edges */

static void test_estimate_by_hand(void **state)
{
    (void)state;
    /* 6 + 12 + 18 + 12 + 12 pairs: 0*6 + 1*12 + 2*18 + 3*12 + 4*12 = 132 of 240 half points. */
    PairCounts counts = {{6, 12, 18, 12, 12}};
    MatchEstimate estimate = match_estimate(&counts, 0.95);
    assert_int_equal(estimate.pairs, 60);
    assert_int_equal(estimate.decided, 42);
    assert_near(estimate.score, 0.55, 1e-12);
    assert_near(estimate.elo, 400 * log10(0.55 / 0.45), 1e-9);
    /* The variance with a tenth of a pair more of each outcome: 132 + 1 of 242 half points, squares by hand.
     */
    double n = 60.5, mean = 133 / (4 * n), squares = 0.1 * 30 + 12 + 18 * 4 + 12 * 9 + 12 * 16;
    double variance = (squares / 16 - n * mean * mean) / (n - 1);
    assert_near(estimate.standard_error, sqrt(variance / 60), 1e-12);
    double half = 2.001 * estimate.standard_error; /* e-Handbook, 1.3.6.7.2, 59 degrees */
    assert_near(estimate.score_interval.low, 0.55 - half, 1e-4);
    assert_near(estimate.score_interval.high, 0.55 + half, 1e-4);
    assert_near(estimate.p_upper, student_upper(0.05 / estimate.standard_error, 59), 1e-12);
    assert_near(estimate.p_value, 2 * estimate.p_upper, 1e-12);
    /* The other arm sees it the other way round. */
    MatchEstimate other = match_estimate(&(PairCounts){{12, 12, 18, 12, 6}}, 0.95);
    assert_near(other.elo, -estimate.elo, 1e-9);
    assert_near(other.elo_interval.low, -estimate.elo_interval.high, 1e-9);
    assert_near(other.p_upper, 1 - estimate.p_upper, 1e-12);
    assert_near(other.p_value, estimate.p_value, 1e-12);
}

static Effect effect_of(PairCounts counts)
{
    GroupSummary group = {.counts = counts, .estimate = match_estimate(&counts, 0.95)};
    group.p_adjusted = group.estimate.p_value;
    return group_effect(&group);
}

static void test_little_data(void **state)
{
    (void)state;
    MatchEstimate none = match_estimate(&(PairCounts){{0}}, 0.95);
    assert_true(none.pairs == 0 && isnan(none.score) && none.p_value == 1);
    /* Both signs of one pair are as likely. */
    MatchEstimate one = match_estimate(&(PairCounts){{0, 0, 0, 0, 1}}, 0.95);
    assert_true(one.score == 1 && one.elo == INFINITY && one.p_value == 1);
    assert_near(one.score_interval.low, 0.025, 1e-4);
    /* Of two pairs one in four has both signs alike, on each side: P is a half, and nothing is found. */
    assert_near(match_estimate(&(PairCounts){{0, 0, 0, 0, 2}}, 0.95).p_value, 0.5, 1e-12);
    assert_int_equal(effect_of((PairCounts){{0, 0, 0, 0, 2}}), EFFECT_NONE);
    assert_int_equal(effect_of((PairCounts){{0, 0, 0, 0, FINDING_PAIRS - 1}}), EFFECT_NONE);
    assert_int_equal(effect_of((PairCounts){{0, 0, 0, 0, FINDING_PAIRS}}), EFFECT_HELPED);
    assert_int_equal(effect_of((PairCounts){{FINDING_PAIRS, 0, 0, 0, 0}}), EFFECT_HARMED);
    assert_int_equal(effect_of((PairCounts){{5, 5, 5, 5, 5}}), EFFECT_OPEN);
    /* Five of one sign are not enough, six are: 2 / 2^6. */
    assert_near(match_estimate(&(PairCounts){{0, 0, 90, 5, 0}}, 0.95).p_value, 2.0 / 32, 1e-12);
    assert_near(match_estimate(&(PairCounts){{0, 0, 90, 6, 0}}, 0.95).p_value, 2.0 / 64, 1e-12);
}

/* J. Hanley and A. Lippman-Hand's rule of three: what has not come in n trials has at most about 3 / n, for
 * two sides 3.7 / n; and each such pair is worth half a point of the score. */
static void test_nearly_all_ties(void **state)
{
    (void)state;
    for (uint64_t n = 20; n <= 500; n += 40) {
        MatchEstimate drawn = match_estimate(&(PairCounts){{0, 0, n, 0, 0}}, 0.95);
        double room = 0.5 * (1 - pow(0.025, 1 / (double)n));
        assert_near(room, 0.5 * 3.69 / (double)n, 0.1 * room);
        assert_near(drawn.score_interval.low, 0.5 - room, 1e-5);
        assert_near(drawn.score_interval.high, 0.5 + room, 1e-5);
        assert_near(drawn.p_value, 1, 0);
    }
    MatchEstimate fifty = match_estimate(&(PairCounts){{0, 0, 50, 0, 0}}, 0.95);
    assert_true(fifty.elo_interval.low < -20 && fifty.elo_interval.high > 20);
    /* Pairs that are all won or lost are a proportion: C. Clopper and E. Pearson's limits for 2 of 12, which
     * are roots of beta distributions: 0.0209 and 0.4841. */
    MatchEstimate two = match_estimate(&(PairCounts){{10, 0, 0, 0, 2}}, 0.95);
    assert_near(beta_lower(2, 11, two.score_interval.low), 0.025, 1e-4);
    assert_near(beta_lower(3, 10, two.score_interval.high), 0.975, 1e-4);
    assert_near(two.score_interval.low, 0.0209, 1e-4);
    assert_near(two.score_interval.high, 0.4841, 1e-4);
}

static void test_equivalence(void **state)
{
    (void)state;
    /* At the 5 % level it says the same as the 90 % interval within the margin (Schuirmann, 1987). */
    static const PairCounts all[] = {
        {{40, 200, 520, 200, 40}}, {{30, 180, 500, 230, 60}}, {{0, 2, 300, 3, 0}}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        Interval interval = match_estimate(&all[i], 0.90).elo_interval;
        double edge = fmax(-interval.low, interval.high);
        assert_near(match_equivalence(&all[i], edge), 0.05, 1e-3);
        assert_true(match_equivalence(&all[i], 1.1 * edge) < 0.05);
        assert_true(match_equivalence(&all[i], 0.9 * edge) > 0.05);
    }
    assert_near(match_equivalence(&(PairCounts){{0, 0, 1, 0, 0}}, 50), 1, 0);
}

static void test_elo_texts(void **state)
{
    (void)state;
    char text[ELO_TEXT_SIZE];
    assert_string_equal(elo_text(-3.04, text), "-3.0");
    assert_string_equal(elo_text(800, text), "+800.0");
    assert_string_equal(elo_text(801, text), "above +800");
    assert_string_equal(elo_text(-INFINITY, text), "below -800");
    assert_string_equal(elo_interval_text((Interval){-INFINITY, 12.25}, text), "below -800 to +12.2");
    assert_string_equal(elo_interval_text((Interval){-INFINITY, INFINITY}, text), "below -800 to above +800");
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
    /* And Welch's P of two is that of his test of 1947, with the degrees of freedom of both together. */
    double a_square = pow(a.standard_error, 2), b_square = pow(b.standard_error, 2);
    double degrees = pow(a_square + b_square, 2) / (pow(a_square, 2) / 99 + pow(b_square, 2) / 99);
    assert_near(found.p_value, 2 * student_upper(fabs(z), degrees), 1e-9);
    assert_near(found.i_squared, (found.q - 1) / found.q, 1e-12);
    /* Strata without pairs take no part. */
    /* Nor do those that are nearly all ties. */
    PairCounts gaps[] = {two[0], {{0}}, two[1], {{0, 0, 500, HETEROGENEITY_DECIDED - 1, 0}}};
    assert_near(match_heterogeneity(gaps, 4).q, found.q, 1e-12);
    assert_near(match_heterogeneity(gaps, 2).p_value, 1, 0);
}

/* ------------------------------------------------------------------------------------------ simulations */

enum { SIMULATED_MATCHES = 2000 };

static void test_coverage(void **state)
{
    (void)state;
    static const int lengths[] = {50, 200, 1000};
    for (int world = 0; world < MATCH_WORLDS; world++) {
        for (int i = 0; i < 3; i++) {
            MatchShares s = match_shares(&match_worlds[world], lengths[i], SIMULATED_MATCHES,
                                         10 * (uint64_t)world + (uint64_t)i);
            /* The bounded mean covers more than it says. */
            double most = (1 - match_worlds[world].p[2]) * lengths[i] > 1.5 * BOUNDED_DECIDED ? 0.97 : 1;
            if (s.covered < 0.93 || s.covered > most)
                fail_msg("%s, %d pairs: %.4f covered", match_worlds[world].name, lengths[i], s.covered);
        }
    }
}

static void test_levels(void **state)
{
    (void)state;
    static const int lengths[] = {2, 6, 10, 20, 30, 60, 300}, worlds[] = {EVEN, DRAWISH, SHARP, NEARLY_TIES};
    for (int i = 0; i < 7; i++)
        for (int k = 0; k < 4; k++) {
            const Chances *world = &match_worlds[worlds[k]];
            MatchShares s =
                match_shares(world, lengths[i], SIMULATED_MATCHES / 2, 100 + 10 * (uint64_t)i + (uint64_t)k);
            if (s.small_p > 0.06 || s.claimed > 0.06)
                fail_msg("%s, %d pairs: P below 0.05 in %.4f, claims in %.4f", world->name, lengths[i],
                         s.small_p, s.claimed);
        }
}

/* Four of five matches as long as match_pairs_needed() says for power 0.8 find the effect. */
static void test_power(void **state)
{
    (void)state;
    PairCounts expected = {{0}};
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        expected.n[i] = (uint64_t)(match_worlds[BETTER].p[i] * 10000 + 0.5);
    double effect = elo_from_score(chances_mean(&match_worlds[BETTER]));
    int pairs = (int)match_pairs_needed(&expected, effect, 0.05, 0.80), found = 0;
    for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
        Random random = random_for_job(5, match);
        PairCounts counts = play_match(&match_worlds[BETTER], &random, pairs);
        found += match_estimate(&counts, 0.95).p_value < 0.05;
    }
    assert_near((double)found / SIMULATED_MATCHES, 0.80, 0.03);
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
    } cases[] = {{&match_worlds[EVEN], 30}, {&match_worlds[DRAWISH], 15}, {&match_worlds[SHARP], 60}};
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
    double truth = elo_from_score(chances_mean(&match_worlds[BETTER]));
    int covered = 0;
    for (uint64_t match = 0; match < SIMULATED_MATCHES; match++) {
        Random random = random_for_job(123, match);
        PairCounts counts = {{0}};
        do
            play_pair(&match_worlds[BETTER], &random, &counts);
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
        cmocka_unit_test(test_nearly_all_ties),
        cmocka_unit_test(test_equivalence),
        cmocka_unit_test(test_elo_texts),
        cmocka_unit_test(test_heterogeneity),
        cmocka_unit_test(test_coverage),
        cmocka_unit_test(test_levels),
        cmocka_unit_test(test_power),
        cmocka_unit_test(test_sequential_errors),
        cmocka_unit_test(test_interval_stop),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
