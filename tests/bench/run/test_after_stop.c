/* After a sequential test: the interval that holds at every moment, and the estimate without what stopping
 * adds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/statistics/match_worlds.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

static void test_width(void **state)
{
    (void)state;
    /* Waudby-Smith and others (2024): the mixture is narrowest at the number it is chosen for. There, with
     * alpha 0.05, 3.03 standard errors by their formula, and not 1.96. */
    double least = 10;
    for (uint64_t n = 100; n <= 2500; n += 20) {
        PairCounts counts = {{n / 20, n / 5, n / 2, n / 5, n / 20}};
        MatchEstimate e = match_estimate(&counts, 0.95);
        Interval interval = time_uniform_interval(&counts, 0.95);
        double errors = (interval.high - e.score) / e.standard_error;
        assert_near(interval.high - e.score, e.score - interval.low, 1e-12);
        least = fmin(least, errors);
        if (n == 500)
            assert_near(errors, 3.035, 0.002);
        assert_true(errors < 3.5);
    }
    assert_true(least > 3.0 && least < 3.036);
    Interval early = time_uniform_interval(&(PairCounts){{0, 0, 0, STOP_PAIRS_LEAST - 1, 0}}, 0.95);
    assert_true(early.low == 0 && early.high == 1);
}

static void test_no_stop_no_bias(void **state)
{
    (void)state;
    /* Bounds that are out of reach: nothing is stopped, and nothing to be taken back. */
    SequentialTest far = {0, 30, 1e-30, 1e-30};
    PairCounts counts = {{15, 90, 200, 130, 25}};
    double score = match_estimate(&counts, 0.95).score;
    assert_near(bias_adjusted_score(&counts, &far, 460), score,
                0.1 * match_estimate(&counts, 0.95).standard_error);
    /* Seen from the other side it is the same. */
    SequentialTest test = {0, 30, 0.05, 0.05}, mirrored = {-30, 0, 0.05, 0.05};
    PairCounts reversed = {{25, 130, 200, 90, 15}};
    double adjusted = bias_adjusted_score(&counts, &test, 2000),
           other = bias_adjusted_score(&reversed, &mirrored, 2000);
    assert_true(adjusted < score);
    assert_near(adjusted, 1 - other, 0.003);
    assert_true(isnan(bias_adjusted_score(&(PairCounts){{0}}, &test, 2000)));
}

/* With no effect the fixed-sample P is below 0.05 in more than 6 % of the matches that the test has stopped;
 * what is printed claims an effect in 6 at most. The mean estimate of a true 20 Elo is 24 without the
 * adjustment. */
static void test_stops(void **state)
{
    (void)state;
    enum { STOPS = 300 };
    static const SequentialTest test = {0, 15, 0.05, 0.05};
    StopShares without = stop_shares(&match_worlds[EVEN], 0, &test, 6000, STOPS, 31);
    assert_true(without.small_p > 0.06);
    assert_true(without.claimed <= 0.06 && without.covered >= 0.95);
    StopShares with = stop_shares(&match_worlds[EVEN], 20, &test, 6000, STOPS, 32);
    assert_true(with.covered >= 0.95 && with.claimed > 0.9);
    assert_true(with.plain_elo > 22.5);
    assert_near(with.adjusted_elo, 20, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_width),
        cmocka_unit_test(test_no_stop_no_bias),
        cmocka_unit_test(test_stops),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
