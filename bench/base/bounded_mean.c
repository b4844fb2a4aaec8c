#include "bench/base/bounded_mean.h"

#include <math.h>

typedef struct Augmented {
    const Counted *values;
    size_t count;
    double bound; /* the value that is added once */
} Augmented;

static void add_term(double value, double count, double t, double *log_size, double *angle)
{
    *log_size -= count / 2 * log1p(t * t * value * value);
    *angle += count * atan(t * value);
}

/* The probability that the mean with random weights is greater than `centre`. The weights are those of
 * exponential variables over their sum, so it is that of their weighted sum of value - centre being positive:
 * by its characteristic function (J. Gil-Pelaez, "Note on the inversion theorem", Biometrika 38, 1951), along
 * t = tan(u) in units of the spread. */
static double weighted_above(const Augmented *sample, double centre)
{
    enum { STEPS = 96, SURE = 20 };
    double expected = sample->bound - centre, square = expected * expected, sum = 0;
    for (size_t i = 0; i < sample->count; i++) {
        double distance = sample->values[i].value - centre,
               share = (double)sample->values[i].count * distance;
        expected += share;
        square += share * distance;
    }
    /* So many standard deviations off nothing is left of the tail, and the integrand would swing too fast. */
    if (fabs(expected) >= SURE * sqrt(square))
        return expected > 0 ? 1 : expected < 0 ? 0 : 0.5;
    for (int step = 0; step < STEPS; step++) {
        double u = (step + 0.5) * M_PI / 2 / STEPS, t = tan(u) / sqrt(square), log_size = 0, angle = 0;
        add_term(sample->bound - centre, 1, t, &log_size, &angle);
        for (size_t i = 0; i < sample->count; i++)
            if (sample->values[i].count > 0)
                add_term(sample->values[i].value - centre, (double)sample->values[i].count, t, &log_size,
                         &angle);
        if (log_size < -40)
            break;
        sum += exp(log_size) * sin(angle) / (sin(u) * cos(u));
    }
    return fmax(0, fmin(1, 0.5 + sum / 2 / STEPS));
}

double bounded_mean_above(const Counted *values, size_t count, double lower, double mean)
{
    /* Above `mean` even though the unseen values may lie as low as they can. */
    return 1 - weighted_above(&(Augmented){values, count, lower}, mean);
}

/* Where weighted_above() is `tail`, between the two ends; it falls with the centre. */
static double place_of(const Augmented *sample, double tail, double low, double high)
{
    for (int step = 0; step < 30; step++) {
        double middle = (low + high) / 2;
        *(weighted_above(sample, middle) > tail ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

Interval bounded_mean_interval(const Counted *values, size_t count, Interval bounds, double confidence)
{
    double least = bounds.high, greatest = bounds.low, outside = (1 - confidence) / 2;
    for (size_t i = 0; i < count; i++)
        if (values[i].count > 0) {
            least = fmin(least, values[i].value);
            greatest = fmax(greatest, values[i].value);
        }
    Interval interval = bounds;
    if (greatest > bounds.low)
        interval.low = place_of(&(Augmented){values, count, bounds.low}, 1 - outside, bounds.low, greatest);
    if (least < bounds.high)
        interval.high = place_of(&(Augmented){values, count, bounds.high}, outside, least, bounds.high);
    return interval;
}
