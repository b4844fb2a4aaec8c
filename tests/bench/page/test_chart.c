/* Charts: numbers at the right places, the same numbers in words and in a table. */
#include "tests/bench/page/rendered.h"

#include "bench/page/chart.h"

#include <math.h>

static const ChartValue rows[] = {
    {"firm & applies", 0, 10, 0, 20, 100, false},
    {"misleading", 0, -10, -20, 0, 50, false},
    {"all", 0, 0, -5, 5, 150, true},
};

static const Chart forest = {.id = "f",
                             .title = "Effect <by> stratum",
                             .item = "Stratum",
                             .value = "Elo",
                             .count = "Pairs",
                             .decimals = 1};

static void a_forest_plot_has_words_and_numbers(void **state)
{
    (void)state;
    Rendered r;
    chart_forest(rendered_open(&r), &forest, rows, 3);
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_non_null(strstr(text, "role=\"img\""));
    assert_non_null(strstr(text, "firm &amp; applies: 10.0 (0.0 to 20.0); "));
    assert_int_equal(count_of(text, "<th scope=\"row\">"), 3);
    assert_non_null(strstr(text, "<td class=\"number\">-20.0 to 0.0</td>"));
    assert_non_null(strstr(text, "<td class=\"number\">150</td>"));
    free(r.text);
}

/* Reads the horizontal place of the n-th square of a forest plot. */
static double spot(const char *text, int n)
{
    double x = 0;
    for (const char *at = text; n >= 0; n--) {
        at = strstr(at + 1, "<rect class=\"spot\" x=\"");
        assert_non_null(at);
        sscanf(at, "<rect class=\"spot\" x=\"%lf\"", &x);
    }
    return x + 5;
}

static void estimates_lie_where_the_scale_says(void **state)
{
    (void)state;
    Rendered r;
    chart_forest(rendered_open(&r), &forest, rows, 3);
    const char *text = rendered_close(&r);
    double zero = 0;
    const char *line = strstr(text, "<path class=\"zero\" d=\"M");
    assert_non_null(line);
    sscanf(line, "<path class=\"zero\" d=\"M%lf", &zero);
    double right = spot(text, 0) - zero, left = zero - spot(text, 1);
    assert_true(right > 50);
    assert_true(fabs(right - left) < 0.2);
    /* The interval from 0 to 20 begins at the line and has the estimate in its middle. */
    double from = 0, y = 0, to = 0;
    const char *interval = strstr(text, "<path class=\"interval\" d=\"M");
    assert_non_null(interval);
    sscanf(interval, "<path class=\"interval\" d=\"M%lf %lfH%lf", &from, &y, &to);
    assert_true(fabs(from - zero) < 0.2);
    assert_true(fabs((from + to) / 2 - spot(text, 0)) < 0.2);
    free(r.text);
}

static void bars_begin_at_the_reference(void **state)
{
    (void)state;
    static const ChartValue solved[] = {{"off", 0, 14, 14, 14, 24, false}, {"on", 0, 16, 16, 16, 24, false}};
    Rendered r;
    chart_bars(rendered_open(&r),
               &(Chart){.id = "b", .title = "Solved", .item = "Term", .value = "Positions", .decimals = 0},
               solved, 2);
    const char *text = rendered_close(&r);
    double x[2] = {0}, y, width[2] = {0};
    const char *at = text;
    for (int i = 0; i < 2; i++) {
        at = strstr(at + 1, "<rect class=\"bar\"");
        assert_non_null(at);
        assert_int_equal(
            sscanf(at, "<rect class=\"bar\" x=\"%lf\" y=\"%lf\" width=\"%lf\"", &x[i], &y, &width[i]), 3);
    }
    assert_well_formed(text);
    assert_true(fabs(x[0] - x[1]) < 0.11);
    assert_true(fabs(width[0] / width[1] - 14.0 / 16) < 0.01);
    assert_null(strstr(text, "class=\"interval\""));
    assert_int_equal(count_of(text, "<td class=\"number\">–</td>"), 2);
    free(r.text);
}

static void curves_show_every_dose(void **state)
{
    (void)state;
    static const ChartValue strict[] = {
        {NULL, 0, 0, 0, 0, 0, false}, {NULL, 50, 5, -5, 15, 200, false}, {NULL, 100, 8, -2, 18, 200, false}};
    static const ChartValue loose[] = {{NULL, 0, 0, 0, 0, 0, false}, {NULL, 100, -8, -18, 2, 200, false}};
    const ChartCurve curves[] = {{"strict", strict, 3}, {"loose", loose, 2}};
    Rendered r;
    chart_curves(rendered_open(&r),
                 &(Chart){.id = "c", .title = "Dose", .item = "Weight", .value = "Elo", .decimals = 1},
                 curves, 2);
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "<circle class=\"spot\""), 5);
    assert_int_equal(count_of(text, "<path class=\"interval\""), 3);
    assert_int_equal(count_of(text, "<table>"), 2);
    assert_non_null(strstr(text, "strict: at 0 0.0; at 50 5.0 (-5.0 to 15.0); "));
    free(r.text);
}

static void a_long_curve_has_a_short_table(void **state)
{
    (void)state;
    for (size_t count = 1; count <= 400; count += 57) {
        ChartValue values[400];
        for (size_t i = 0; i < count; i++)
            values[i] = (ChartValue){NULL, (double)i + 1, 1, -1, 3, i, false};
        Rendered r;
        chart_band(rendered_open(&r), &(Chart){.id = "c", .title = "T", .item = "Games", .value = "Elo"},
                   &(ChartCurve){"all", values, count});
        const char *text = rendered_close(&r);
        assert_well_formed(text);
        int shown = count_of(text, "<th scope=\"row\"");
        assert_in_range(shown, 1, 12);
        char last[64];
        snprintf(last, sizeof last, "<th scope=\"row\" class=\"number\">%zu</th>", count);
        assert_int_equal(count_of(text, last), 1);
        free(r.text);
    }
}

/* One value, or values that are all the same, must not divide by an empty range. */
static void a_scale_without_range_is_drawn(void **state)
{
    (void)state;
    static const ChartValue same[] = {{"a", 0, 0, 0, 0, 1, false}};
    Rendered r;
    chart_forest(rendered_open(&r), &forest, same, 1);
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf"));
    free(r.text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_forest_plot_has_words_and_numbers),
        cmocka_unit_test(estimates_lie_where_the_scale_says),
        cmocka_unit_test(bars_begin_at_the_reference),
        cmocka_unit_test(curves_show_every_dose),
        cmocka_unit_test(a_long_curve_has_a_short_table),
        cmocka_unit_test(a_scale_without_range_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
