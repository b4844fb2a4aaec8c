#include "bench/base/means.h"
#include "bench/base/random.h"

#include <math.h>
#include <stdlib.h>

/* How many of its standard errors a mean is off 0; infinite if the values are all the same. */
static double studentised(double sum, double squares, size_t count)
{
    static const double rounding = 1e-12;
    double n = (double)count, spread = squares - sum * sum / n;
    if (squares == 0)
        return 0;
    if (spread <= rounding * squares)
        return INFINITY;
    return fabs(sum) / sqrt(n * spread / (n - 1));
}

static int compare_reals(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void resample(const double *values, size_t count, double centre, double *distances, int resamples,
                     uint64_t seed)
{
    Random random = random_seeded(seed);
    for (int i = 0; i < resamples; i++) {
        double sum = 0, squares = 0;
        for (size_t j = 0; j < count; j++) {
            double off = values[random_below(&random, count)] - centre;
            sum += off;
            squares += off * off;
        }
        distances[i] = studentised(sum, squares, count);
    }
    qsort(distances, (size_t)resamples, sizeof *distances, compare_reals);
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
    double *distances = malloc((size_t)resamples * sizeof *distances);
    if (!distances)
        return false;
    double n = (double)count, centre = result->mean, variance = 0;
    for (size_t i = 0; i < count; i++)
        variance += (values[i] - centre) * (values[i] - centre) / (n - 1);
    double error = sqrt(variance / n);
    resample(values, count, centre, distances, resamples, seed);

    int as_far = 0;
    while (as_far < resamples && distances[resamples - 1 - as_far] >= fabs(centre) / error)
        as_far++;
    result->p_value = (as_far + 1.0) / (resamples + 1.0);
    int outside = (int)floor((1 - confidence) * (resamples + 1) + 1e-9);
    double reach = distances[resamples - outside] * error;
    result->interval = (Interval){centre - reach, centre + reach};
    free(distances);
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
