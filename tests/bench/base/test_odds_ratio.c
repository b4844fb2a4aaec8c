/* Odds ratios over strata, beside published examples. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/base/odds_ratio.h"

#include <math.h>

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

/* Admissions to the graduate school of Berkeley in 1973 by sex, in six departments: P. Bickel, E. Hammel, J. O'Connell,
 * "Sex Bias in Graduate Admissions", Science 187, 1975; the counts as in the data set that comes with R. */
static const Stratum berkeley[] = {
    {{{512, 313}, {89, 19}}, 1},   {{{353, 207}, {17, 8}}, 2},  {{{120, 205}, {202, 391}}, 3},
    {{{138, 279}, {131, 244}}, 4}, {{{53, 138}, {94, 299}}, 5}, {{{22, 351}, {24, 317}}, 6},
};

enum { DEPARTMENTS = sizeof berkeley / sizeof *berkeley };

static void the_berkeley_table_as_r_computes_it(void **state)
{
    (void)state;
    OddsRatio odds = mantel_haenszel(berkeley, DEPARTMENTS, 0.95);
    /* mantelhaen.test(UCBAdmissions) in the manual of R: from memory, and by statsmodels 0.13.5. */
    assert_near(odds.estimate, 0.9046968, 5e-7);
    assert_near(odds.interval.low, 0.7719074, 5e-7);
    assert_near(odds.interval.high, 1.0603298, 5e-7);
}

static void the_berkeley_departments_differ(void **state)
{
    (void)state;
    double common = mantel_haenszel(berkeley, DEPARTMENTS, 0.95).estimate;
    Homogeneity homogeneity = breslow_day_tarone(berkeley, DEPARTMENTS, common);
    /* By statsmodels 0.13.5, StratifiedTable.test_equal_odds(adjust=True). */
    assert_near(homogeneity.chi_square, 18.82550, 5e-4);
    assert_near(homogeneity.p, 0.0020714, 5e-6);
    assert_int_equal(homogeneity.degrees, DEPARTMENTS - 1);
}

/* One table: the cross-product ratio, and Woolf's error (1955), the root of the sum of the reciprocals. */
static void a_single_table_has_the_plain_odds_ratio(void **state)
{
    (void)state;
    const Stratum one = {{{20, 10}, {5, 15}}, 0};
    OddsRatio odds = mantel_haenszel(&one, 1, 0.95);
    assert_near(odds.estimate, 20.0 * 15 / (10 * 5), 1e-12);
    assert_near(odds.log_error, sqrt(1.0 / 20 + 1.0 / 10 + 1.0 / 5 + 1.0 / 15), 1e-12);
    assert_near(log(odds.interval.high / odds.estimate), normal_quantile(0.975) * odds.log_error, 1e-9);
}

/* Pairs, one a stratum: the ratio of the two kinds of discordant pairs, b / c, and its error sqrt(1/b + 1/c) (Breslow
 * and Day 1980, section 5.2). */
static void matched_pairs_have_the_ratio_of_the_discordant_ones(void **state)
{
    (void)state;
    enum { B = 29, C = 3, SAME = 31 };
    Stratum pairs[B + C + SAME];
    for (int i = 0; i < B + C + SAME; i++) {
        /* Exposed case and control unexposed; the other way round; both exposed. */
        pairs[i] = i < B       ? (Stratum){{{1, 0}, {0, 1}}, (uint64_t)i}
                   : i < B + C ? (Stratum){{{0, 1}, {1, 0}}, (uint64_t)i}
                               : (Stratum){{{1, 1}, {0, 0}}, (uint64_t)i};
    }
    OddsRatio odds = mantel_haenszel(pairs, B + C + SAME, 0.95);
    assert_near(odds.estimate, 29.0 / 3, 1e-9); /* 9.67: their endometrial cancers, table 5.1, from memory */
    assert_near(odds.log_error, sqrt(1.0 / B + 1.0 / C), 1e-9);
    assert_false(stratum_informs(&pairs[B + C]));
    assert_true(stratum_informs(&pairs[0]));
}

static void strata_that_say_nothing_change_nothing(void **state)
{
    (void)state;
    const Stratum strata[] = {
        {{{20, 10}, {5, 15}}, 0}, {{{7, 3}, {0, 0}}, 1}, {{{0, 4}, {0, 9}}, 2}, {{{0}}, 3}};
    OddsRatio odds = mantel_haenszel(strata, 4, 0.95);
    assert_near(odds.estimate, 6, 1e-12);
    /* One stratum that informs has nothing to be compared with. */
    assert_true(isnan(breslow_day_tarone(strata, 4, odds.estimate).p));
}

static void no_odds_ratio_without_both_diagonals(void **state)
{
    (void)state;
    const Stratum strata[] = {{{{2, 0}, {0, 3}}, 0}};
    assert_true(isnan(mantel_haenszel(strata, 1, 0.95).estimate));
    assert_true(isnan(mantel_haenszel(strata, 0, 0.95).estimate));
}

static void strata_with_one_odds_ratio_are_homogeneous(void **state)
{
    (void)state;
    const Stratum strata[] = {{{{20, 10}, {5, 15}}, 0}, {{{40, 20}, {10, 30}}, 1}, {{{6, 1}, {10, 10}}, 2}};
    Homogeneity homogeneity = breslow_day_tarone(strata, 3, 6);
    assert_near(homogeneity.chi_square, 0, 1e-9);
    assert_near(homogeneity.p, 1, 1e-9);
    assert_int_equal(homogeneity.degrees, 2);
    /* An odds ratio of 1, where the quadratic has no square term. By hand: both tables expect 10 and have 12 and 8, each with
     * the variance 1 / (4 / 10) = 2.5; the deviations cancel, so that Tarone takes nothing away. */
    const Stratum even[] = {{{{12, 8}, {8, 12}}, 0}, {{{8, 12}, {12, 8}}, 1}};
    assert_near(breslow_day_tarone(even, 2, 1).chi_square, 2 * 4 / 2.5, 1e-9);
}

/* Influences of single tables: with each table in a cluster of its own, and with all in one, where they add up to 0 as the
 * estimate solves the equation that they are the terms of. */
static void errors_by_cluster(void **state)
{
    (void)state;
    Influence influences[DEPARTMENTS];
    double common = mantel_haenszel(berkeley, DEPARTMENTS, 0.95).estimate, sum = 0, squares = 0;
    mantel_haenszel_influence(berkeley, DEPARTMENTS, common, 1, influences);
    for (int i = 0; i < DEPARTMENTS; i++) {
        sum += influences[i].value;
        squares += influences[i].value * influences[i].value;
    }
    assert_near(sum, 0, 1e-12);
    assert_near(clustered_variance(influences, DEPARTMENTS), squares, 1e-12);
    for (int i = 0; i < DEPARTMENTS; i++)
        influences[i].cluster = 7;
    assert_near(clustered_variance(influences, DEPARTMENTS), 0, 1e-12);
    assert_near(clustered_variance(influences, 0), 0, 0);
}

/* VanderWeele and Ding 2017: a risk ratio of 3.9 (1.8 to 8.7) has E-values of 7.26 and 3.0. An odds ratio of a common
 * outcome counts by its root. */
static void e_values_as_published(void **state)
{
    (void)state;
    assert_near(e_value(3.9 * 3.9), 7.26, 0.005);
    assert_near(e_value_of_interval((Interval){1.8 * 1.8, 8.7 * 8.7}), 3.0, 0.005);
    assert_near(e_value(1 / (3.9 * 3.9)), e_value(3.9 * 3.9), 1e-9);
    assert_near(e_value_of_interval((Interval){1 / (8.7 * 8.7), 1 / (1.8 * 1.8)}), 3.0, 0.005);
    assert_near(e_value(1), 1, 0);
    assert_near(e_value_of_interval((Interval){0.9, 4}), 1, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_berkeley_table_as_r_computes_it),
        cmocka_unit_test(the_berkeley_departments_differ),
        cmocka_unit_test(a_single_table_has_the_plain_odds_ratio),
        cmocka_unit_test(matched_pairs_have_the_ratio_of_the_discordant_ones),
        cmocka_unit_test(strata_that_say_nothing_change_nothing),
        cmocka_unit_test(no_odds_ratio_without_both_diagonals),
        cmocka_unit_test(strata_with_one_odds_ratio_are_homogeneous),
        cmocka_unit_test(errors_by_cluster),
        cmocka_unit_test(e_values_as_published),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
