#include "bench/base/odds_ratio.h"

#include <math.h>
#include <stdlib.h>

static double row_sum(const Stratum *s, int row)
{
    return s->cell[row][0] + s->cell[row][1];
}

static double column_sum(const Stratum *s, int column)
{
    return s->cell[0][column] + s->cell[1][column];
}

bool stratum_informs(const Stratum *stratum)
{
    return row_sum(stratum, 0) > 0 && row_sum(stratum, 1) > 0 && column_sum(stratum, 0) > 0 &&
           column_sum(stratum, 1) > 0;
}

/* The two products of a stratum's table and the two shares of its diagonals, by the names of Robins, Breslow and
 * Greenland. */
typedef struct Parts {
    double p, q, r, s;
} Parts;

static Parts parts_of(const Stratum *s)
{
    double n = row_sum(s, 0) + row_sum(s, 1);
    if (n == 0)
        return (Parts){0};
    return (Parts){.p = (s->cell[0][0] + s->cell[1][1]) / n,
                   .q = (s->cell[0][1] + s->cell[1][0]) / n,
                   .r = s->cell[0][0] * s->cell[1][1] / n,
                   .s = s->cell[0][1] * s->cell[1][0] / n};
}

OddsRatio odds_ratio_from(double log_estimate, double log_error, double confidence)
{
    double reach = normal_quantile(0.5 + confidence / 2) * log_error;
    return (OddsRatio){exp(log_estimate), log_error, {exp(log_estimate - reach), exp(log_estimate + reach)}};
}

OddsRatio mantel_haenszel(const Stratum *strata, size_t count, double confidence)
{
    double r = 0, s = 0, pr = 0, ps_qr = 0, qs = 0;
    for (size_t i = 0; i < count; i++) {
        Parts parts = parts_of(&strata[i]);
        r += parts.r;
        s += parts.s;
        pr += parts.p * parts.r;
        ps_qr += parts.p * parts.s + parts.q * parts.r;
        qs += parts.q * parts.s;
    }
    if (r == 0 || s == 0)
        return (OddsRatio){NAN, NAN, {NAN, NAN}};
    double variance = pr / (2 * r * r) + ps_qr / (2 * r * s) + qs / (2 * s * s);
    return odds_ratio_from(log(r / s), sqrt(variance), confidence);
}

void mantel_haenszel_influence(const Stratum *strata, size_t count, double estimate, double factor,
                               Influence *influences)
{
    double r = 0;
    for (size_t i = 0; i < count; i++)
        r += parts_of(&strata[i]).r;
    for (size_t i = 0; i < count; i++) {
        Parts parts = parts_of(&strata[i]);
        influences[i] = (Influence){strata[i].cluster, factor * (parts.r - estimate * parts.s) / r};
    }
}

/* By value within a cluster, too, so that the order of the input does not show in the last digit. */
static int compare_influences(const void *a, const void *b)
{
    const Influence *x = a, *y = b;
    if (x->cluster != y->cluster)
        return x->cluster < y->cluster ? -1 : 1;
    return (x->value > y->value) - (x->value < y->value);
}

double clustered_variance(Influence *influences, size_t count)
{
    double variance = 0;
    if (count > 0)
        qsort(influences, count, sizeof *influences, compare_influences);
    for (size_t i = 0; i < count;) {
        double sum = 0;
        uint64_t cluster = influences[i].cluster;
        for (; i < count && influences[i].cluster == cluster; i++)
            sum += influences[i].value;
        variance += sum * sum;
    }
    return variance;
}

/* The first cell that a stratum would have, given its margins, with that odds ratio: the root of a quadratic that leaves
 * no cell negative. */
static double expected_cell(const Stratum *stratum, double odds_ratio)
{
    double row = row_sum(stratum, 0), column = column_sum(stratum, 0);
    double rest = row_sum(stratum, 1) - column; /* the last cell less the first */
    double a = 1 - odds_ratio, b = odds_ratio * (row + column) + rest, c = -odds_ratio * row * column;
    if (fabs(a) < 1e-12)
        return -c / b;
    /* The form of the solution that does not subtract what is nearly equal. */
    return -2 * c / (b + sqrt(b * b - 4 * a * c));
}

Homogeneity breslow_day_tarone(const Stratum *strata, size_t count, double odds_ratio)
{
    double chi_square = 0, deviation = 0, variance = 0;
    size_t informing = 0;
    for (size_t i = 0; i < count; i++) {
        const Stratum *stratum = &strata[i];
        if (!stratum_informs(stratum))
            continue;
        double expected = expected_cell(stratum, odds_ratio);
        double row = row_sum(stratum, 0), column = column_sum(stratum, 0);
        double own = 1 / (1 / expected + 1 / (row - expected) + 1 / (column - expected) +
                          1 / (row_sum(stratum, 1) - column + expected));
        double difference = stratum->cell[0][0] - expected;
        informing++;
        chi_square += difference * difference / own;
        deviation += difference;
        variance += own;
    }
    if (informing < 2 || isnan(odds_ratio))
        return (Homogeneity){NAN, 0, NAN};
    chi_square -= deviation * deviation / variance;
    return (Homogeneity){chi_square, informing - 1, chi_square_upper(chi_square, (double)(informing - 1))};
}

double e_value(double odds_ratio)
{
    double risk_ratio = sqrt(odds_ratio);
    if (risk_ratio < 1)
        risk_ratio = 1 / risk_ratio;
    return risk_ratio + sqrt(risk_ratio * (risk_ratio - 1));
}

double e_value_of_interval(Interval interval)
{
    if (isnan(interval.low))
        return NAN;
    return interval.low > 1 ? e_value(interval.low) : interval.high < 1 ? e_value(interval.high) : 1;
}
