/* Charts as inline SVG. Each is a figure with its text alternative, and below it a table with the numbers, so
 * that nothing can be learned from the picture alone.
 *
 *     chart_definitions(out); // once a page, before the first chart
 *     chart_forest(out,
 *                  &(Chart){.id = "strata", .title = "Effect by stratum", .item = "Stratum", .value = "Elo"},
 *                  rows, 6);
 *
 * Numbers are written with `decimals` digits behind the point, so that the same numbers give
 * the same bytes. */
#ifndef PAWNVANE_CHART_H
#define PAWNVANE_CHART_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { CHART_TEXT_SIZE = 48 };

typedef struct Chart {
    const char *id;      /* letters, digits and -, unique on the page */
    const char *title;   /* of the figure and its table */
    const char *item;    /* what a row or a step along is: "Stratum", "Weight in percent" */
    const char *value;   /* what is measured, with its unit */
    const char *count;   /* what the counts are, "Pairs"; null leaves them out */
    const char *caption; /* null for none */
    int decimals;
    double reference; /* a line to compare with, mostly 0 */
    /* How an estimate or an end of an interval is written; null: with `decimals`. */
    const char *(*text)(double value, char text[CHART_TEXT_SIZE]);
} Chart;

/* An estimate with its interval. Without one, low and high equal the estimate. */
typedef struct ChartValue {
    const char *label; /* of a forest plot or a bar; not used by curves */
    double at;         /* where along a curve it stands; not used by others */
    double estimate, low, high;
    size_t count;
    bool overall; /* sums up the others: drawn as a lozenge */
} ChartValue;

typedef struct ChartCurve {
    const char *name;
    const ChartValue *values; /* in the order of `at` */
    size_t value_count;
} ChartCurve;

void chart_definitions(FILE *out);

/* Estimates one below the other, each with its interval. */
void chart_forest(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count);

/* Bars from the reference line, with intervals where there are any. */
void chart_bars(FILE *out, const Chart *chart, const ChartValue *values, size_t value_count);

/* Up to four curves of estimates with a bar for each interval: a dose and its response. */
void chart_curves(FILE *out, const Chart *chart, const ChartCurve *curves, size_t curve_count);

/* One curve of many values in a band of intervals: an estimate as it settles. Its table shows at most a
 * dozen. */
void chart_band(FILE *out, const Chart *chart, const ChartCurve *curve);

#endif
