#include "bench/base/means.h"
#include "bench/base/random.h"

#include <math.h>
#include <stdlib.h>

/* How many of its standard errors a mean is above 0; infinite if the values are all the same. */
static double studentised(double sum, double squares, size_t count)
{
    static const double rounding = 1e-12;
    double n = (double)count, spread = squares - sum * sum / n;
    if (squares == 0)
        return 0;
    if (spread <= rounding * squares)
        return copysign(INFINITY, sum);
    return sum / sqrt(n * spread / (n - 1));
}

static int compare_reals(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* How far the means of resamples are off, in standard errors of their own: upwards, and either way. */
typedef struct Resamples {
    int count;
    double *up, *far; /* in ascending order */
} Resamples;

static void resample(const double *values, size_t count, double centre, uint64_t seed, Resamples *r)
{
    Random random = random_seeded(seed);
    for (int i = 0; i < r->count; i++) {
        double sum = 0, squares = 0;
        for (size_t j = 0; j < count; j++) {
            double off = values[random_below(&random, count)] - centre;
            sum += off;
            squares += off * off;
        }
        r->up[i] = studentised(sum, squares, count);
        r->far[i] = fabs(r->up[i]);
    }
    qsort(r->up, (size_t)r->count, sizeof *r->up, compare_reals);
    qsort(r->far, (size_t)r->count, sizeof *r->far, compare_reals);
}

/* How many of sorted values are at least x. */
static int count_from(const double *sorted, int count, double x)
{
    int from = 0;
    while (from < count && sorted[count - 1 - from] >= x)
        from++;
    return from;
}

static double p_value(const Resamples *r, double t)
{
    int above = count_from(r->up, r->count, t),
        below = r->count - count_from(r->up, r->count, nextafter(t, INFINITY));
    double all = r->count + 1, symmetric = (1 + count_from(r->far, r->count, fabs(t))) / all,
           equal_tailed = 2 * (1 + (above < below ? above : below)) / all;
    return fmin(1, fmax(symmetric, equal_tailed));
}

/* In standard errors from the mean. */
static Interval reach(const Resamples *r, double confidence)
{
    static const double rounding = 1e-9;
    double outside = (1 - confidence) * (r->count + 1) + rounding;
    int both = (int)outside, each = (int)(outside / 2);
    double far = r->far[r->count - both];
    return (Interval){-fmax(far, r->up[r->count - each]), fmax(far, -r->up[each - 1])};
}

static bool all_the_same(const double *values, size_t count)
{
    for (size_t i = 1; i < count; i++)
        if (values[i] != values[0])
            return false;
    return true;
}

bool bootstrap_mean(const double *values, size_t count, double confidence, int resamples, uint64_t seed,
                    BootstrapMean *result)
{
    *result = (BootstrapMean){.mean = mean(values, count), .interval = {-INFINITY, INFINITY}, .p_value = 1};
    if (all_the_same(values, count))
        return true;
    Resamples r = {.count = resamples, .up = malloc(2 * (size_t)resamples * sizeof *r.up)};
    if (!r.up)
        return false;
    r.far = r.up + resamples;
    double n = (double)count, centre = result->mean, variance = 0;
    for (size_t i = 0; i < count; i++)
        variance += (values[i] - centre) * (values[i] - centre) / (n - 1);
    double error = sqrt(variance / n);
    resample(values, count, centre, seed, &r);
    Interval errors = reach(&r, confidence);
    result->p_value = p_value(&r, centre / error);
    result->interval = (Interval){centre + errors.low * error, centre + errors.high * error};
    free(r.up);
    return true;
}

ClusteredMean clustered_mean(const double *sums, const size_t *sizes, size_t clusters, double confidence)
{
    double sum = 0, values = 0, counted = 0, squares = 0;
    for (size_t i = 0; i < clusters; i++) {
        sum += sums[i];
        values += (double)sizes[i];
        counted += sizes[i] > 0;
    }
    ClusteredMean result = {.mean = sum / values, .error = NAN, .interval = {NAN, NAN}};
    if (counted < 2)
        return result;
    for (size_t i = 0; i < clusters; i++) {
        double off = sums[i] - (double)sizes[i] * result.mean;
        squares += off * off;
    }
    result.error = sqrt(counted / (counted - 1) * squares) / values;
    double reach = result.error * student_quantile(0.5 + confidence / 2, counted - 1);
    result.interval = (Interval){result.mean - reach, result.mean + reach};
    return result;
}

ClusteredRatio clustered_ratio(const double *above, const double *below, size_t count, size_t clusters,
                               double confidence)
{
    double all_above = 0, all_below = 0, squares = 0, g = (double)clusters;
    for (size_t i = 0; i < count; i++) {
        all_above += above[i];
        all_below += below[i];
    }
    ClusteredRatio result = {all_below > 0 ? all_above / all_below : NAN, {NAN, NAN}};
    if (!(all_above > 0 && all_below > 0) || clusters < 2)
        return result;
    for (size_t i = 0; i < count; i++) {
        double part = above[i] / all_above - below[i] / all_below;
        squares += part * part;
    }
    double reach = student_quantile((1 + confidence) / 2, g - 1) * sqrt(squares * g / (g - 1));
    result.interval = (Interval){result.ratio * exp(-reach), result.ratio * exp(reach)};
    return result;
}
