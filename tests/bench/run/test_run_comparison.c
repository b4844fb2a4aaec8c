/* Matches beside each other: like with like, opening by opening. */
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

/* Elo of a score near an even one, by the derivative of the logistic curve. */
static const double elo_of_score = 1600 / M_LN10;

static void played(DrawnRun *drawn, int pairs, double alike, const double slopes[PS_RULE_COUNT],
                   uint64_t seed)
{
    Random random = random_seeded(seed);
    drawn_run_make(drawn, DRAWN_MATCHES, pairs);
    drawn_run_play(drawn, &match_worlds[EVEN], alike, slopes, &random);
}

static void test_paired_difference(void **state)
{
    (void)state;
    DrawnRun drawn;
    static const double slopes[] = {10, -10};
    played(&drawn, 300, 0.5, slopes, 1);
    MatchOf strict = {&drawn.run, 2}, loose = {&drawn.run, 2 + DRAWN_DOSES};
    assert_int_equal(openings_shared(strict, loose), 300);
    /* By the textbook: the mean of the differences, its standard error, Student's t. */
    double sum = 0, squares = 0;
    for (int i = 0; i < 300; i++) {
        double d = (drawn.run.matches[2].pairs[i].points_a - drawn.run.matches[7].pairs[i].points_a) / 4.0;
        sum += d;
        squares += d * d;
    }
    double mean = sum / 300, error = sqrt((squares / 300 - mean * mean) / 299), t = mean / error;
    Difference d = match_difference(strict, loose);
    assert_true(d.paired);
    assert_int_equal(d.openings, 300);
    assert_near(d.elo, elo_of_score * mean, 1e-9);
    assert_near(d.interval.high, elo_of_score * (mean + student_quantile(0.975, 299) * error), 1e-9);
    assert_near(d.p_value, 2 * student_upper(fabs(t), 299), 1e-9);
    Difference other = match_difference(loose, strict);
    assert_near(other.elo, -d.elo, 1e-9);
    assert_near(other.p_value, d.p_value, 1e-12);

    /* The same openings in another order and another run are the same openings. */
    DrawnRun turned;
    played(&turned, 300, 0.5, slopes, 1);
    for (int i = 0; i < 300; i++) {
        turned.run.openings[i] = turned.openings[299 - i];
        turned.run.matches[7].pairs[i].pair = 299 - turned.run.matches[7].pairs[i].pair;
    }
    Difference across = match_difference(strict, (MatchOf){&turned.run, 7});
    assert_near(across.elo, d.elo, 1e-9);
    assert_near(across.p_value, d.p_value, 1e-12);

    /* Without openings in common: B. Welch's test, whose standard error is that of both together. */
    for (int i = 0; i < 300; i++)
        snprintf(turned.openings[i], sizeof turned.openings[i], "elsewhere %d", i);
    Difference welch = match_difference(strict, (MatchOf){&turned.run, 7});
    assert_false(welch.paired);
    assert_near(welch.elo, d.elo, 1e-9);
    PairCounts a = {{0}}, b = {{0}};
    for (int i = 0; i < 300; i++) {
        a.n[drawn.run.matches[2].pairs[i].points_a]++;
        b.n[drawn.run.matches[7].pairs[i].points_a]++;
    }
    double both = hypot(match_estimate(&a, 0.95).standard_error, match_estimate(&b, 0.95).standard_error);
    assert_near(welch.interval.high - welch.elo, elo_of_score * 1.964 * both, 0.01 * elo_of_score * both);
    drawn_run_free(&turned);
    drawn_run_free(&drawn);
}

static void test_trend(void **state)
{
    (void)state;
    DrawnRun drawn;
    static const double slopes[] = {5, -25};
    static const int doses[DRAWN_DOSES] = {25, 50, 100, 200, 400};
    Trend trends[PS_RULE_COUNT];
    played(&drawn, 400, 0.5, slopes, 2);
    assert_true(run_trends(&drawn.run, trends));
    /* Least squares through no effect at no dose: sum of dose times effect over sum of squared doses. */
    for (int rule = 0; rule < PS_RULE_COUNT; rule++) {
        double product = 0, square = 0;
        for (int i = 0; i < DRAWN_DOSES; i++) {
            double score = 0;
            for (int k = 0; k < 400; k++)
                score += drawn.run.matches[rule * DRAWN_DOSES + i].pairs[k].points_a / 4.0 / 400;
            product += doses[i] / 100.0 * (score - 0.5);
            square += pow(doses[i] / 100.0, 2);
        }
        assert_int_equal(trends[rule].doses, DRAWN_DOSES);
        assert_int_equal(trends[rule].slope.openings, 400);
        assert_near(trends[rule].slope.elo, elo_of_score * product / square, 1e-9);
        assert_near(trends[rule].slope.elo, slopes[rule], 8);
    }
    double p[] = {trends[0].slope.p_value, trends[1].slope.p_value};
    holm_adjust(p, 2, p);
    assert_near(trends[0].slope.p_adjusted, p[0], 0);
    assert_near(trends[1].slope.p_adjusted, p[1], 0);
    assert_true(difference_is_finding(&trends[PS_LOOSE].slope));
    /* An opening that one dose has not finished is in none. */
    drawn.run.matches[3].count -= 7;
    assert_true(run_trends(&drawn.run, trends));
    assert_int_equal(trends[PS_STRICT].slope.openings, 393);
    assert_int_equal(trends[PS_LOOSE].slope.openings, 400);
    drawn_run_free(&drawn);
}

static int found(const StoredRun *strict, const StoredRun *loose)
{
    ReadingPair *pairs;
    MatchOf matches[2 * DRAWN_DOSES];
    for (int i = 0; i < DRAWN_DOSES; i++) {
        matches[i] = (MatchOf){strict, i};
        matches[DRAWN_DOSES + i] = (MatchOf){loose, DRAWN_DOSES + i};
    }
    int count = reading_pairs(matches, 2 * DRAWN_DOSES, &pairs);
    for (int i = 0; i < count; i++) {
        assert_int_equal(pairs[i].strict.index + DRAWN_DOSES, pairs[i].loose.index);
        assert_true(pairs[i].difference.p_adjusted >= pairs[i].difference.p_value);
    }
    free(pairs);
    return count;
}

static void test_like_with_like(void **state)
{
    (void)state;
    DrawnRun one, other;
    static const double none[] = {0, 0};
    played(&one, 60, 0.5, none, 3);
    played(&other, 60, 0.5, none, 4);
    assert_int_equal(found(&one.run, &one.run), DRAWN_DOSES);
    assert_int_equal(found(&one.run, &other.run), DRAWN_DOSES);
    /* Another number of nodes, another engine, another clock: no comparison. */
    for (int i = 0; i < other.run.arm_count; i++)
        other.run.arms[i].nodes = 40000;
    assert_int_equal(found(&one.run, &other.run), 0);
    assert_false(matches_are_alike((MatchOf){&one.run, 0}, (MatchOf){&other.run, 0}));
    char engine[] = "another";
    for (int i = 0; i < other.run.arm_count; i++) {
        other.run.arms[i].nodes = one.run.arms[i].nodes;
        other.run.arms[i].engine = engine;
    }
    assert_int_equal(found(&one.run, &other.run), 0);
    for (int i = 0; i < other.run.arm_count; i++)
        other.run.arms[i].engine = one.run.arms[i].engine;
    char clock[] = "clock, milliseconds", zero[] = "0", ten[] = "10000", seed[] = "seed", five[] = "5";
    one.run.settings[0] = (StoredSetting){clock, zero};
    one.run.settings[1] = (StoredSetting){seed, zero};
    other.run.settings[0] = (StoredSetting){clock, ten};
    other.run.settings[1] = (StoredSetting){seed, five};
    one.run.setting_count = other.run.setting_count = 2;
    assert_int_equal(found(&one.run, &other.run), 0);
    /* The seed may differ. */
    other.run.settings[0].value = zero;
    assert_int_equal(found(&one.run, &other.run), DRAWN_DOSES);
    /* A clock that goes by nodes is another one, whichever run is asked. */
    char pace[] = "pace, nodes a second";
    other.run.settings[2] = (StoredSetting){pace, ten};
    other.run.setting_count = 3;
    assert_false(matches_are_alike((MatchOf){&one.run, 0}, (MatchOf){&other.run, 0}));
    assert_false(matches_are_alike((MatchOf){&other.run, 0}, (MatchOf){&one.run, 0}));
    drawn_run_free(&one);
    drawn_run_free(&other);
}

/* Differences of openings that are nearly all 0, and too few of them. */
static void test_few_differences(void **state)
{
    (void)state;
    DrawnRun drawn;
    static const double none[] = {0, 0};
    played(&drawn, 60, 1, none, 5);
    MatchOf strict = {&drawn.run, 0}, loose = {&drawn.run, DRAWN_DOSES};
    Difference d = match_difference(strict, loose);
    assert_near(d.elo, 0, 0);
    assert_near(d.p_value, 1, 0);
    /* Clopper-Pearson's room for what has not come: at most all points of a pair, 3.7 times in 60. */
    assert_near(d.interval.high, elo_of_score * (1 - pow(0.025, 1.0 / 60)), 0.1);
    for (int i = 0; i < 6; i++)
        drawn.run.matches[0].pairs[i].points_a = 4, drawn.run.matches[DRAWN_DOSES].pairs[i].points_a = 2;
    assert_near(match_difference(strict, loose).p_value, 2.0 / 64, 1e-12);
    drawn.run.matches[0].count = FINDING_PAIRS - 1;
    assert_int_equal(match_difference(strict, loose).openings, 0);
    assert_false(difference_is_finding(&(Difference){.openings = FINDING_PAIRS - 1, .p_adjusted = 0.001}));
    drawn_run_free(&drawn);
}

static void test_levels_of_a_sweep(void **state)
{
    (void)state;
    enum { RUNS = 300 };
    static const double none[] = {0, 0}, slopes[] = {5, -10};
    RunShares s = run_shares(&match_worlds[EVEN], DRAWN_MATCHES, 240, 0.7, none, RUNS, 41);
    if (s.either > 0.06 || s.trend > 0.06 || s.readings > 0.06)
        fail_msg("helped or harmed %.3f, a trend %.3f, readings %.3f", s.either, s.trend, s.readings);
    RunShares t = run_shares(&match_worlds[EVEN], DRAWN_MATCHES, 240, 0.7, slopes, RUNS, 42);
    if (t.slope_covered < 0.92 || t.reading_covered < 0.92)
        fail_msg("covered: slope %.3f, strict less loose %.3f", t.slope_covered, t.reading_covered);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_paired_difference), cmocka_unit_test(test_trend),
        cmocka_unit_test(test_like_with_like),    cmocka_unit_test(test_few_differences),
        cmocka_unit_test(test_levels_of_a_sweep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
