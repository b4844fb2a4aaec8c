/* The conditional logit, beside cases that have a closed form; tests/reference/forecast.py compares it with statsmodels. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "bench/base/conditional_logit.h"

#include <math.h>

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

/* Choices between an alternative with the covariate 1 and one with 0: `ones` chose the first, `zeros` the second. Each is
 * a cluster of its own, or each two neighbours are one. */
enum { ONES = 29, ZEROS = 3, PAIRS = ONES + ZEROS };

static void make_pairs(LogitSet sets[2 * PAIRS], double covariates[2 * PAIRS][1], int copies)
{
    for (int i = 0; i < PAIRS; i++) {
        covariates[2 * i][0] = 1;
        covariates[2 * i + 1][0] = 0;
        for (int copy = 0; copy < copies; copy++)
            sets[copies * i + copy] = (LogitSet){
                .first = 2 * (size_t)i, .count = 2, .chosen = i < ONES ? 0 : 1, .cluster = (uint64_t)i};
    }
}

/* N. Breslow, N. Day, Statistical Methods in Cancer Research 1, 1980, section 5.2: with pairs the odds ratio is that of
 * the two kinds of discordant pairs, its error sqrt(1/b + 1/c); 29 to 3 are their cancers of the endometrium (table 5.1,
 * from memory). */
static void pairs_have_a_closed_form(void **state)
{
    (void)state;
    LogitSet sets[2 * PAIRS];
    double covariates[2 * PAIRS][1];
    LogitFit fit;
    make_pairs(sets, covariates, 1);
    assert_true(conditional_logit(sets, PAIRS, covariates[0], 1, &fit));
    double error = sqrt(1.0 / ONES + 1.0 / ZEROS), p = (double)ONES / PAIRS;
    assert_near(fit.coefficients[0], log(29.0 / 3), 1e-9);
    assert_near(fit.errors[0], error, 1e-9);
    assert_near(fit.null_log_likelihood, PAIRS * log(0.5), 1e-9);
    assert_near(fit.log_likelihood, ONES * log(p) + ZEROS * log(1 - p), 1e-9);
    /* The squared scores add up to the information here, so only the correction for few clusters is left. */
    assert_int_equal(fit.clusters, PAIRS);
    assert_near(fit.clustered_errors[0], error * sqrt(PAIRS / (PAIRS - 1.0)), 1e-9);
}

/* Everything twice, as one cluster each: nothing is learned by the copies. */
static void copies_do_not_shrink_the_clustered_error(void **state)
{
    (void)state;
    LogitSet sets[2 * PAIRS];
    double covariates[2 * PAIRS][1];
    LogitFit fit;
    make_pairs(sets, covariates, 2);
    assert_true(conditional_logit(sets, (size_t)2 * PAIRS, covariates[0], 1, &fit));
    double error = sqrt(1.0 / ONES + 1.0 / ZEROS);
    assert_near(fit.errors[0], error / sqrt(2), 1e-9);
    assert_int_equal(fit.clusters, PAIRS);
    assert_near(fit.clustered_errors[0], error * sqrt(PAIRS / (PAIRS - 1.0)), 1e-9);
}

/* With a covariate for every alternative but the last, the fitted shares are the observed ones. */
static void shares_of_three_alternatives(void **state)
{
    (void)state;
    static const double covariates[3][2] = {{1, 0}, {0, 1}, {0, 0}};
    static const uint32_t observed[3] = {50, 30, 20};
    LogitSet sets[100];
    LogitFit fit;
    size_t count = 0;
    for (uint32_t a = 0; a < 3; a++)
        for (uint32_t i = 0; i < observed[a]; i++, count++)
            sets[count] = (LogitSet){.first = 0, .count = 3, .chosen = a, .cluster = count};
    assert_true(conditional_logit(sets, count, covariates[0], 2, &fit));
    assert_near(fit.coefficients[0], log(50.0 / 20), 1e-9);
    assert_near(fit.coefficients[1], log(30.0 / 20), 1e-9);
    /* The error of a logarithm of a ratio of two multinomial counts. */
    assert_near(fit.errors[0], sqrt(1.0 / 50 + 1.0 / 20), 1e-9);
    assert_near(fit.errors[1], sqrt(1.0 / 30 + 1.0 / 20), 1e-9);
}

static void what_cannot_be_fitted_is_refused(void **state)
{
    (void)state;
    LogitFit fit;
    LogitSet sets[2 * PAIRS];
    double covariates[2 * PAIRS][1];
    make_pairs(sets, covariates, 1);
    /* The one with the covariate is always chosen. */
    assert_false(conditional_logit(sets, ONES, covariates[0], 1, &fit));
    /* It never differs. */
    for (int i = 0; i < 2 * PAIRS; i++)
        covariates[i][0] = 1;
    assert_false(conditional_logit(sets, PAIRS, covariates[0], 1, &fit));
    assert_false(conditional_logit(sets, 0, covariates[0], 1, &fit));
}

static void a_matrix_times_its_inverse(void **state)
{
    (void)state;
    static const double m[9] = {4, 2, -1, 2, 5, 0.5, -1, 0.5, 3};
    double inverse[9];
    for (int i = 0; i < 9; i++)
        inverse[i] = m[i];
    assert_true(symmetric_invert(inverse, 3));
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            double sum = 0;
            for (int k = 0; k < 3; k++)
                sum += m[3 * i + k] * inverse[3 * k + j];
            assert_near(sum, i == j, 1e-12);
        }
    double factor[9], solution[3] = {1, -2, 3};
    for (int i = 0; i < 9; i++)
        factor[i] = m[i];
    assert_true(symmetric_factorise(factor, 3));
    symmetric_solve(factor, 3, solution);
    for (int i = 0; i < 3; i++)
        assert_near(m[3 * i] * solution[0] + m[3 * i + 1] * solution[1] + m[3 * i + 2] * solution[2],
                    i == 0   ? 1
                    : i == 1 ? -2
                             : 3,
                    1e-12);
    double singular[4] = {1, 2, 2, 4};
    assert_false(symmetric_invert(singular, 2));
    double negative[4] = {1, 2, 2, 1};
    assert_false(symmetric_invert(negative, 2));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pairs_have_a_closed_form),
        cmocka_unit_test(copies_do_not_shrink_the_clustered_error),
        cmocka_unit_test(shares_of_three_alternatives),
        cmocka_unit_test(what_cannot_be_fitted_is_refused),
        cmocka_unit_test(a_matrix_times_its_inverse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
