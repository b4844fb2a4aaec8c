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

/* The imaginary part of the characteristic function at t. */
static double imaginary_part(const Augmented *sample, double centre, double t, double *log_size)
{
    double angle = 0;
    *log_size = 0;
    add_term(sample->bound - centre, 1, t, log_size, &angle);
    for (size_t i = 0; i < sample->count; i++)
        if (sample->values[i].count > 0)
            add_term(sample->values[i].value - centre, (double)sample->values[i].count, t, log_size, &angle);
    return exp(*log_size) * sin(angle);
}

/* The probability that the mean with random weights is greater than `centre`. The weights are those of
 * exponential variables over their sum, so it is that of their weighted sum of value - centre being positive:
 * by its characteristic function (J. Gil-Pelaez, "Note on the inversion theorem", Biometrika 38, 1951), in
 * equal steps of log(t), where the trapezoidal rule is at its best. */
static double weighted_above(const Augmented *sample, double centre)
{
    enum { SURE = 20, STEPS_MAX = 400 };
    const double step = 0.125;
    double expected = sample->bound - centre, square = expected * expected;
    for (size_t i = 0; i < sample->count; i++) {
        double distance = sample->values[i].value - centre,
               share = (double)sample->values[i].count * distance;
        expected += share;
        square += share * distance;
    }
    /* So many standard deviations off nothing is left of the tail, and the integrand would swing too fast. */
    if (fabs(expected) >= SURE * sqrt(square))
        return expected > 0 ? 1 : expected < 0 ? 0 : 0.5;
    /* Below the first t the function is a straight line, and its steps a geometric series. */
    double t = 3e-3 / sqrt(square), sum = expected * t / expm1(step), log_size = 0;
    for (int i = 0; i < STEPS_MAX && log_size > -20; i++, t *= exp(step))
        sum += imaginary_part(sample, centre, t, &log_size);
    return fmax(0, fmin(1, 0.5 + sum * step / M_PI));
}

double bounded_mean_above(const Counted *values, size_t count, double lower, double mean)
{
    /* Above `mean` even though the unseen values may lie as low as they can. */
    return 1 - weighted_above(&(Augmented){values, count, lower}, mean);
}

/* Beyond this the weighted mean has less than `tail` on either side (F. Cantelli's inequality, 1929): its
 * moments are those of a Dirichlet distribution. */
static Interval within_reach(const Augmented *sample, double tail)
{
    double total = 1, sum = sample->bound, squares = sample->bound * sample->bound;
    for (size_t i = 0; i < sample->count; i++) {
        double count = (double)sample->values[i].count, value = sample->values[i].value;
        total += count;
        sum += count * value;
        squares += count * value * value;
    }
    double centre = sum / total, variance = fmax(0, squares / total - centre * centre) / (total + 1);
    double reach = sqrt(variance / tail);
    return (Interval){centre - reach, centre + reach};
}

/* Where weighted_above() is `tail`, between the two ends; it falls with the centre. False position, with the
 * end that stays counted for less and less (M. Dowell, P. Jarratt, "A modified regula falsi method for
 * computing the root of an equation", BIT 11, 1971). */
static double place_of(const Augmented *sample, double tail, double low, double high)
{
    Interval reach = within_reach(sample, fmin(tail, 1 - tail));
    low = fmax(low, reach.low);
    high = fmin(high, reach.high);
    double at_low = 1 - tail, at_high = -tail, middle = low;
    int stayed = 0; /* how often which end did: above 0 the low one */
    for (int step = 0; step < 60 && high - low > 1e-9; step++) {
        middle = (low * at_high - high * at_low) / (at_high - at_low);
        double excess = weighted_above(sample, middle) - tail;
        if (fabs(excess) < 1e-6)
            break;
        if (excess > 0) {
            low = middle;
            at_low = excess;
            at_high /= stayed < 0 ? 2 : 1;
            stayed = -1;
        } else {
            high = middle;
            at_high = excess;
            at_low /= stayed > 0 ? 2 : 1;
            stayed = 1;
        }
    }
    return middle;
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
