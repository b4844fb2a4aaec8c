/* Means with their errors, against a published example, by hand, and by simulation.
 * tests/reference/statistics_estimates.py compares with independent libraries. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <math.h>

#include "bench/base/means.h"
#include "bench/base/random.h"

enum { RESAMPLES = 1999 };

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

static BootstrapMean estimate(const double *values, size_t count, double confidence, uint64_t seed)
{
    BootstrapMean result;
    assert_true(bootstrap_mean(values, count, confidence, RESAMPLES, seed, &result));
    return result;
}

/* B. Efron, R. Tibshirani, An Introduction to the Bootstrap, 1993, table 2.1: the seven treated mice, mean
 * 86.86 and standard error of the mean 25.24 (from memory). */
static const double mice[] = {94, 197, 16, 38, 99, 141, 23};

static void a_published_example(void **state)
{
    (void)state;
    BootstrapMean first = estimate(mice, 7, 0.95, 1), again = estimate(mice, 7, 0.95, 1),
                  wider = estimate(mice, 7, 0.99, 1);
    assert_near(first.mean, 86.86, 0.005);
    assert_memory_equal(&first, &again, sizeof first);
    /* Student's interval reaches 2.447 standard errors; the bootstrap's, of seven values, farther, and above
     * all on the side of the long tail. */
    double up = (first.interval.high - first.mean) / 25.24, down = (first.mean - first.interval.low) / 25.24;
    assert_true(up > 2.2 && up < 4.5);
    assert_true(down > 2.2 && down <= up);
    assert_true(wider.interval.high > first.interval.high);
    assert_near(wider.p_value, first.p_value, 0);
}

/* The interval leaves 0 out exactly where the p-value is at most 5 %. */
static void interval_and_p_value_agree(void **state)
{
    (void)state;
    Random random = random_seeded(3);
    int significant = 0;
    for (int i = 0; i < 300; i++) {
        double values[12];
        for (int j = 0; j < 12; j++)
            values[j] = random_unit(&random) + random_unit(&random) - 0.8;
        BootstrapMean e = estimate(values, 12, 0.95, (uint64_t)i);
        assert_int_equal(e.interval.low > 0 || e.interval.high < 0, e.p_value <= 0.05);
        assert_true(e.p_value >= 2.0 / (RESAMPLES + 1) && e.p_value <= 1);
        significant += e.p_value <= 0.05;
    }
    assert_in_range((uint64_t)significant, 30, 270);
}

/* What is said of no effect must not depend on which arm is called the first. */
static void signs_only_change_the_sign(void **state)
{
    (void)state;
    double mirrored[7];
    for (int i = 0; i < 7; i++)
        mirrored[i] = -mice[i];
    BootstrapMean a = estimate(mice, 7, 0.95, 1), b = estimate(mirrored, 7, 0.95, 1);
    assert_near(a.interval.low, -b.interval.high, 1e-9);
    assert_near(a.p_value, b.p_value, 0);
}

static void values_that_say_too_little(void **state)
{
    (void)state;
    static const double same[] = {5, 5, 5, 5, 5}, nearly[] = {0, 0, 0, 0, 0, 0, 0, 0, 0, 1};
    BootstrapMean e = estimate(same, 5, 0.95, 1);
    assert_near(e.mean, 5, 0);
    assert_true(isinf(e.interval.low) && isinf(e.interval.high));
    assert_near(e.p_value, 1, 0);
    /* A third of the resamples are nothing but zeros (0.9 to the power of 10): they know of no spread. */
    e = estimate(nearly, 10, 0.95, 1);
    assert_true(isinf(e.interval.low) && isinf(e.interval.high));
    assert_true(e.p_value > 0.3);
    e = estimate(mice, 1, 0.95, 1);
    assert_true(isinf(e.interval.low) && e.mean == 94);
    e = estimate(mice, 0, 0.95, 1);
    assert_true(isinf(e.interval.low) && isnan(e.mean) && e.p_value == 1);
}

/* Clusters of one value each have the error of a plain mean. */
static void clusters_of_one_are_values(void **state)
{
    (void)state;
    static const size_t ones[] = {1, 1, 1, 1, 1, 1, 1};
    ClusteredMean e = clustered_mean(mice, ones, 7, 0.95);
    assert_near(e.mean, 86.857, 0.001);
    assert_near(e.error, 25.24, 0.005);
    /* Student's t with 6 degrees: 2.447, any table. */
    assert_near(e.interval.high - e.mean, 2.447 * e.error, 0.01);
    assert_near(e.mean - e.interval.low, 2.447 * e.error, 0.01);
}

/* By hand: 1, 3 and 2 in clusters of {1}, {3, 2} have the mean 2; the clusters are off it by -1 and 1 in sum;
 * the variance is 2 / 1 * (1 + 1) / 9. An empty cluster changes nothing. */
static void clusters_by_hand(void **state)
{
    (void)state;
    static const double sums[] = {1, 0, 5};
    static const size_t sizes[] = {1, 0, 2};
    ClusteredMean e = clustered_mean(sums, sizes, 3, 0.95);
    assert_near(e.mean, 2, 1e-15);
    assert_near(e.error, 2.0 / 3, 1e-15);
    assert_near(e.interval.high, 2 + 12.706 * 2 / 3, 0.001);
    assert_true(isnan(clustered_mean(sums, sizes, 2, 0.95).error));
    assert_true(isnan(clustered_mean(sums, sizes, 0, 0.95).mean));
}

/* Copies of a value teach nothing: a cluster counts for one however great it is. */
static void copies_do_not_make_it_surer(void **state)
{
    (void)state;
    double sums[7];
    size_t sizes[7];
    for (int i = 0; i < 7; i++) {
        sums[i] = 50 * mice[i];
        sizes[i] = 50;
    }
    assert_near(clustered_mean(sums, sizes, 7, 0.95).error, 25.24, 0.005);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_published_example),         cmocka_unit_test(interval_and_p_value_agree),
        cmocka_unit_test(signs_only_change_the_sign),  cmocka_unit_test(values_that_say_too_little),
        cmocka_unit_test(clusters_of_one_are_values),  cmocka_unit_test(clusters_by_hand),
        cmocka_unit_test(copies_do_not_make_it_surer),
    };
    return cmocka_run_group_tests_name("means", tests, NULL, NULL);
}
