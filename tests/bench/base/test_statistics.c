/* Statistics and random numbers against published tables and examples, and by simulation. All published
 * values here are from memory. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <math.h>

#include "bench/base/bounded_mean.h"
#include "bench/base/random.h"
#include "bench/base/statistics.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

static void test_normal(void **state)
{
    (void)state;
    /* NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1: the area between 0 and x. */
    static const double table[][2] = {{0, 0},          {0.5, 0.19146},  {1, 0.34134},    {1.28, 0.39973},
                                      {1.64, 0.44950}, {1.96, 0.47500}, {2.33, 0.49010}, {3, 0.49865}};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        assert_near(normal_cdf(table[i][0]) - 0.5, table[i][1], 5.1e-6);
        assert_near(normal_cdf(-table[i][0]), 0.5 - table[i][1], 5.1e-6);
    }
    /* M. Wichura, Algorithm AS 241, Applied Statistics 37, 1988: its three test values. */
    assert_near(normal_quantile(0.25), -0.6744897501960817, 1e-14);
    assert_near(normal_quantile(0.001), -3.090232306167814, 1e-14);
    assert_near(normal_quantile(1e-20), -9.262340089798408, 1e-13);
    assert_near(normal_quantile(0.5), 0, 1e-15);
    assert_near(normal_quantile(0.975), 1.959963984540054, 1e-14);
    assert_true(isinf(normal_quantile(0)) && normal_quantile(0) < 0);
    assert_true(isinf(normal_quantile(1)) && normal_quantile(1) > 0);
    for (double p = 0.0005; p < 1; p += 0.0005)
        assert_near(normal_cdf(normal_quantile(p)), p, 1e-14);
}

static void test_chi_square(void **state)
{
    (void)state;
    /* NIST/SEMATECH e-Handbook, 1.3.6.7.4: upper critical values. */
    static const double tails[] = {0.10, 0.05, 0.025, 0.01, 0.001};
    static const struct {
        double degrees, critical[5];
    } table[] = {
        {1, {2.706, 3.841, 5.024, 6.635, 10.828}},      {2, {4.605, 5.991, 7.378, 9.210, 13.816}},
        {5, {9.236, 11.070, 12.833, 15.086, 20.515}},   {10, {15.987, 18.307, 20.483, 23.209, 29.588}},
        {30, {40.256, 43.773, 46.979, 50.892, 59.703}}, {100, {118.498, 124.342, 129.561, 135.807, 149.449}},
    };
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        for (int j = 0; j < 5; j++)
            assert_near(chi_square_upper(table[i].critical[j], table[i].degrees), tails[j], tails[j] * 5e-4);
    }
    /* With two degrees of freedom it is the exponential distribution; both branches are used. */
    for (double x = 0.125; x < 60; x *= 2)
        assert_near(chi_square_upper(x, 2), exp(-x / 2), 1e-14);
    assert_near(chi_square_upper(0, 3), 1, 0);
    assert_near(chi_square_upper(-1, 3), 1, 0);
}

static void test_wilson(void **state)
{
    (void)state;
    /* R. Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in Medicine 17,
     * 1998, table I, method 3. */
    static const struct {
        uint64_t successes, trials;
        double low, high;
    } table[] = {
        {81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        Interval interval = wilson_interval(table[i].successes, table[i].trials, 0.95);
        assert_near(interval.low, table[i].low, 5.1e-5);
        assert_near(interval.high, table[i].high, 5.1e-5);
        Interval other = wilson_interval(table[i].trials - table[i].successes, table[i].trials, 0.95);
        assert_near(other.low, 1 - interval.high, 1e-12);
        assert_near(other.high, 1 - interval.low, 1e-12);
    }
    Interval nothing = wilson_interval(0, 0, 0.95);
    assert_near(nothing.low, 0, 0);
    assert_near(nothing.high, 1, 0);
}

static void test_mcnemar(void **state)
{
    (void)state;
    /* Twice the lower tail of the binomial distribution with p = 1/2, as published tables have it: P(X <= 2
     * of 10) = 0.0547, P(X <= 3 of 15) = 0.0176, P(X <= 5 of 20) = 0.0207. */
    assert_near(mcnemar_exact(2, 8), 2 * 0.0547, 1.1e-4);
    assert_near(mcnemar_exact(3, 12), 2 * 0.0176, 1.1e-4);
    assert_near(mcnemar_exact(15, 5), 2 * 0.0207, 1.1e-4);
    /* By counting: 2 * (1 + 9) / 512. */
    assert_near(mcnemar_exact(1, 8), 0.0390625, 1e-13);
    assert_near(mcnemar_exact(0, 0), 1, 1e-15);
    assert_near(mcnemar_exact(3, 3), 1, 1e-12);
    assert_near(mcnemar_exact(0, 1), 1, 1e-12);
    assert_near(mcnemar_exact(0, 6), 0.03125, 1e-13);
}

static void test_sign_flips(void **state)
{
    (void)state;
    /* R. A. Fisher, "The Design of Experiments", 1935, section 21: C. Darwin's fifteen pairs of plants,
     * differences in eighths of an inch. 863 of the 32,768 sign patterns have a sum of 314 or more, as many
     * one of -314 or less: 5.267 percent. */
    static const int darwin[] = {49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48};
    int mirrored[15];
    for (int i = 0; i < 15; i++)
        mirrored[i] = -darwin[i];
    double upper = sign_flip_upper(darwin, 15), lower = sign_flip_upper(mirrored, 15);
    assert_near(upper, 863.0 / 32768, 1e-12);
    assert_near(two_sided(upper, lower), 0.05267, 5e-6);
    /* By counting: sums of 1, 1 and 2 with signs are 4, 2, 2, 0, 0, -2, -2, -4. */
    static const int three[] = {1, 1, 2}, zeros[] = {0, 0}, tie[] = {1, -1};
    assert_near(sign_flip_upper(three, 3), 1.0 / 8, 1e-15);
    assert_near(sign_flip_upper(zeros, 2), 1, 0);
    assert_near(sign_flip_upper(tie, 2), 0.75, 1e-15);
    assert_near(sign_flip_upper(NULL, 0), 1, 0);
    /* Values of one size are a binomial distribution. */
    int ones[20];
    for (int i = 0; i < 20; i++)
        ones[i] = i < 5 ? -3 : 3;
    assert_near(2 * sign_flip_upper(ones, 20), mcnemar_exact(5, 15), 1e-12);
}

static void test_beta(void **state)
{
    (void)state;
    /* The binomial distribution is a beta function (Abramowitz and Stegun, 26.5.24): P(X >= 3 of 10, p = 0.2)
     * = 0.3222. */
    assert_near(beta_lower(3, 8, 0.2), 0.3222, 5e-5);
    for (double x = 0.05; x < 1; x += 0.05) {
        assert_near(beta_lower(1, 1, x), x, 1e-14);
        assert_near(beta_lower(2, 5, x), 1 - pow(1 - x, 6) - 6 * x * pow(1 - x, 5), 1e-13);
        assert_near(beta_lower(0.5, 0.5, x), 2 / acos(-1) * asin(sqrt(x)), 1e-13);
        assert_near(beta_lower(40, 3, x) + beta_lower(3, 40, 1 - x), 1, 1e-13);
    }
    assert_near(beta_lower(3, 4, 0), 0, 0);
    assert_near(beta_lower(3, 4, 1), 1, 0);
    /* NIST/SEMATECH e-Handbook, 1.3.6.7.3: upper critical values of F at 5 %. */
    assert_near(f_upper(3.326, 5, 10), 0.05, 5e-5);
    assert_near(f_upper(4.965, 1, 10), 0.05, 5e-5);
    assert_near(f_upper(2.447 * 2.447, 1, 6), 2 * student_upper(2.447, 6), 1e-12);
    assert_near(f_upper(0, 3, 5), 1, 0);
    /* With one degree Student's t is Cauchy's distribution; both ways to many degrees meet. */
    assert_near(student_upper(1, 1), 0.25, 1e-14);
    assert_near(student_upper(-1, 1), 0.75, 1e-14);
    assert_near(student_upper(2.5, 99999), student_upper(2.5, 100001), 1e-8);
    assert_near(student_upper(INFINITY, 7), 0, 0);
    for (double degrees = 3; degrees < 2000; degrees *= 3)
        for (double p = 0.001; p < 1; p += 0.037)
            assert_near(student_upper(student_quantile(p, degrees), degrees), 1 - p, 1e-9);
}

static void test_bounded_mean(void **state)
{
    (void)state;
    /* Of zeros and ones it is the Clopper-Pearson interval: R. Newcombe, Statistics in Medicine 17, 1998,
     * table I, method 5. */
    static const struct {
        uint64_t successes, trials;
        double low, high;
    } table[] = {
        {81, 263, 0.2527, 0.3676}, {15, 148, 0.0578, 0.1617}, {0, 20, 0, 0.1684}, {1, 29, 0.0009, 0.1776}};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        const Counted values[] = {{0, table[i].trials - table[i].successes}, {1, table[i].successes}};
        Interval interval = bounded_mean_interval(values, 2, (Interval){0, 1}, 0.95);
        assert_near(interval.low, table[i].low, 1e-4);
        assert_near(interval.high, table[i].high, 1e-4);
        /* The test says what the interval does. */
        if (interval.low > 0)
            assert_near(bounded_mean_above(values, 2, 0, interval.low), 0.025, 1e-5);
    }
    /* Moved and stretched the interval moves and stretches with the values. */
    const Counted plain[] = {{0, 3}, {0.25, 5}, {0.5, 30}, {0.75, 2}, {1, 1}};
    Counted moved[5];
    for (int i = 0; i < 5; i++)
        moved[i] = (Counted){8 * plain[i].value - 4, plain[i].count};
    Interval a = bounded_mean_interval(plain, 5, (Interval){0, 1}, 0.95),
             b = bounded_mean_interval(moved, 5, (Interval){-4, 4}, 0.95);
    assert_near(b.low, 8 * a.low - 4, 1e-4);
    assert_near(b.high, 8 * a.high - 4, 1e-4);
    Interval nothing = bounded_mean_interval(plain, 0, (Interval){-1, 2}, 0.95);
    assert_near(nothing.low, -1, 0);
    assert_near(nothing.high, 2, 0);
}

static void test_holm(void **state)
{
    (void)state;
    /* A common textbook example: at 0.05 only the two smallest hold. */
    double p[] = {0.01, 0.04, 0.03, 0.005}, adjusted[4];
    static const double expected[] = {0.03, 0.06, 0.06, 0.02};
    holm_adjust(p, 4, adjusted);
    for (int i = 0; i < 4; i++)
        assert_near(adjusted[i], expected[i], 1e-15);
    holm_adjust(p, 4, p);
    assert_memory_equal(p, adjusted, sizeof p);

    double equal[] = {0.4, 0.4, 0.4};
    holm_adjust(equal, 3, equal);
    for (int i = 0; i < 3; i++)
        assert_near(equal[i], 1, 0);
    holm_adjust(NULL, 0, NULL);

    /* By hand: over their weights they are 0.02, 0.03 and 0.2; times the weight that is left, 4, 3 and 1. */
    static const double some[] = {0.02, 0.06, 0.2}, weights[] = {1, 2, 1}, by_hand[] = {0.08, 0.09, 0.2};
    holm_adjust_weighted(some, weights, 3, adjusted);
    for (int i = 0; i < 3; i++)
        assert_near(adjusted[i], by_hand[i], 1e-15);
}

static void test_random_reference(void **state)
{
    (void)state;
    /* Output of the authors' reference code for SplitMix64 from 1234567 and for xoshiro256** from the state 1
     * 2 3 4. */
    static const uint64_t split_mix[] = {UINT64_C(6457827717110365317), UINT64_C(3203168211198807973),
                                         UINT64_C(9817491932198370423), UINT64_C(4593380528125082431),
                                         UINT64_C(16408922859458223821)};
    static const uint64_t xoshiro[] = {UINT64_C(11520),
                                       0,
                                       UINT64_C(1509978240),
                                       UINT64_C(1215971899390074240),
                                       UINT64_C(1216172134540287360),
                                       UINT64_C(607988272756665600),
                                       UINT64_C(16172922978634559625),
                                       UINT64_C(8476171486693032832)};
    uint64_t seed = 1234567;
    for (size_t i = 0; i < sizeof split_mix / sizeof *split_mix; i++)
        assert_true(random_split_mix(&seed) == split_mix[i]);
    Random random = {{1, 2, 3, 4}};
    for (size_t i = 0; i < sizeof xoshiro / sizeof *xoshiro; i++)
        assert_true(random_next(&random) == xoshiro[i]);
}

static void test_random_below(void **state)
{
    (void)state;
    enum { BOUND = 11, DRAWS = 110000 };
    Random random = random_seeded(3);
    int counts[BOUND] = {0};
    for (int i = 0; i < DRAWS; i++)
        counts[random_below(&random, BOUND)]++;
    double chi_square = 0;
    for (int i = 0; i < BOUND; i++)
        chi_square += pow(counts[i] - DRAWS / BOUND, 2) / (DRAWS / BOUND);
    assert_true(chi_square_upper(chi_square, BOUND - 1) > 0.001);

    /* A bound so great that a plain remainder would favour the lower third visibly: 2^64 / 3 * 2. */
    uint64_t bound = UINT64_MAX / 3 * 2, low = 0;
    for (int i = 0; i < 10000; i++)
        low += random_below(&random, bound) < bound / 2;
    Interval share = wilson_interval(low, 10000, 0.999);
    assert_true(share.low < 0.5 && share.high > 0.5);
    assert_true(random_below(&random, 1) == 0);
}

static void test_random_jobs(void **state)
{
    (void)state;
    Random a = random_for_job(5, 17), again = random_for_job(5, 17), next = random_for_job(5, 18),
           other = random_for_job(6, 16);
    uint64_t first = random_next(&a);
    assert_true(first == random_next(&again));
    assert_true(first != random_next(&next));
    assert_true(first != random_next(&other));
    for (int i = 0; i < 1000; i++) {
        double unit = random_unit(&a);
        assert_true(unit >= 0 && unit < 1);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_normal),           cmocka_unit_test(test_chi_square),
        cmocka_unit_test(test_wilson),           cmocka_unit_test(test_mcnemar),
        cmocka_unit_test(test_sign_flips),       cmocka_unit_test(test_beta),
        cmocka_unit_test(test_bounded_mean),     cmocka_unit_test(test_holm),
        cmocka_unit_test(test_random_reference), cmocka_unit_test(test_random_below),
        cmocka_unit_test(test_random_jobs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
