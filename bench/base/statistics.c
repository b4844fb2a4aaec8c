#include "bench/base/statistics.h"

#include <math.h>
#include <stdlib.h>

double normal_cdf(double x)
{
    return 0.5 * erfc(-x / M_SQRT2);
}

double normal_quantile(double p)
{
    if (p <= 0)
        return -INFINITY;
    if (p >= 1)
        return INFINITY;
    /* In the lower half, where erfc() keeps its relative precision out to the smallest p. */
    double tail = p < 0.5 ? p : 1 - p;
    double t = sqrt(-2 * log(tail));
    double x =
        (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))) - t;
    for (int i = 0; i < 3; i++) {
        double density = exp(-0.5 * x * x) / sqrt(2 * M_PI);
        if (density <= 0)
            break;
        double step = (normal_cdf(x) - tail) / density;
        x -= step / (1 + 0.5 * x * step);
    }
    return p < 0.5 ? x : -x;
}

/* The continued fraction 26.5.8 for the share of the beta function below x, by Lentz's method. It is quick
 * for x below (a + 1) / (a + b + 2). */
static double beta_fraction(double a, double b, double x)
{
    const double tiny = 1e-300;
    double c = 1, d = 1 / (1 - (a + b) * x / (a + 1)), fraction = d, factor = 0;
    for (int m = 1; m < 10000 && fabs(factor - 1) > 1e-16; m++) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        const double numerators[] = {even, odd};
        for (int i = 0; i < 2; i++) {
            d = 1 + numerators[i] * d;
            d = 1 / (fabs(d) < tiny ? tiny : d);
            c = 1 + numerators[i] / c;
            c = fabs(c) < tiny ? tiny : c;
            factor = d * c;
            fraction *= factor;
        }
    }
    return fraction;
}

double beta_lower(double a, double b, double x)
{
    if (x <= 0 || x >= 1)
        return x <= 0 ? 0 : 1;
    double front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x));
    return x < (a + 1) / (a + b + 2) ? front * beta_fraction(a, b, x) / a
                                     : 1 - front * beta_fraction(b, a, 1 - x) / b;
}

double f_upper(double f, double numerator, double denominator)
{
    return f <= 0 ? 1
                  : beta_lower(denominator / 2, numerator / 2, denominator / (denominator + numerator * f));
}

double student_upper(double t, double degrees)
{
    enum { NORMAL_FROM = 100000 };
    if (degrees >= NORMAL_FROM)
        return normal_cdf(-t * (1 - 1 / (4 * degrees)) / sqrt(1 + t * t / (2 * degrees)));
    double tail = isinf(t) ? 0 : beta_lower(degrees / 2, 0.5, degrees / (degrees + t * t)) / 2;
    return t < 0 ? 1 - tail : tail;
}

/* The expansion 26.7.5 in powers of 1 / degrees. */
static double student_expansion(double p, double degrees)
{
    double x = normal_quantile(p), xx = x * x;
    double terms[] = {x, x * (xx + 1) / 4, x * ((5 * xx + 16) * xx + 3) / 96,
                      x * (((3 * xx + 19) * xx + 17) * xx - 15) / 384,
                      x * ((((79 * xx + 776) * xx + 1482) * xx - 1920) * xx - 945) / 92160};
    double sum = 0;
    for (int i = 4; i >= 0; i--)
        sum = sum / degrees + terms[i];
    return sum;
}

double student_quantile(double p, double degrees)
{
    if (degrees == 1)
        return tan(M_PI * (p - 0.5));
    if (degrees == 2)
        return (2 * p - 1) / sqrt(2 * p * (1 - p));
    if (p < 0.5)
        return -student_quantile(1 - p, degrees);
    double t = student_expansion(p, degrees), tail = 1 - p;
    double front = lgamma((degrees + 1) / 2) - lgamma(degrees / 2) - log(degrees * M_PI) / 2;
    for (int i = 0; i < 4; i++) {
        double density = exp(front - (degrees + 1) / 2 * log1p(t * t / degrees));
        double step = (student_upper(t, degrees) - tail) / density;
        t += step;
        if (fabs(step) < 1e-10 * (1 + t))
            break;
    }
    return t;
}

/* The share of the gamma function that lies above x, for x below a + 1: 1 minus the series. */
static double gamma_upper_by_series(double a, double x)
{
    double term = 1 / a, sum = term;
    for (double n = a + 1; fabs(term) > fabs(sum) * 1e-17; n++) {
        term *= x / n;
        sum += term;
    }
    return 1 - sum * exp(-x + a * log(x) - lgamma(a));
}

/* The same for greater x: the continued fraction, evaluated from the front by Lentz's method. */
static double gamma_upper_by_fraction(double a, double x)
{
    const double tiny = 1e-300;
    double b = x + 1 - a, c = 1 / tiny, d = 1 / b, fraction = d, factor = 0;
    for (int i = 1; i < 10000 && fabs(factor - 1) > 1e-16; i++) {
        double numerator = -i * (i - a);
        b += 2;
        d = numerator * d + b;
        d = 1 / (fabs(d) < tiny ? tiny : d);
        c = b + numerator / c;
        c = fabs(c) < tiny ? tiny : c;
        factor = d * c;
        fraction *= factor;
    }
    return fraction * exp(-x + a * log(x) - lgamma(a));
}

double chi_square_upper(double x, double degrees)
{
    double a = degrees / 2, half = x / 2;
    if (x <= 0)
        return 1;
    return half < a + 1 ? gamma_upper_by_series(a, half) : gamma_upper_by_fraction(a, half);
}

Interval wilson_interval(uint64_t successes, uint64_t trials, double confidence)
{
    if (trials == 0)
        return (Interval){0, 1};
    double n = (double)trials, share = (double)successes / n;
    double z = normal_quantile(0.5 + confidence / 2), zz = z * z;
    double centre = (share + zz / (2 * n)) / (1 + zz / n);
    double half = z / (1 + zz / n) * sqrt(share * (1 - share) / n + zz / (4 * n * n));
    return (Interval){fmax(0, centre - half), fmin(1, centre + half)};
}

double mcnemar_exact(uint64_t only_a, uint64_t only_b)
{
    uint64_t pairs = only_a + only_b, fewer = only_a < only_b ? only_a : only_b;
    double n = (double)pairs, sum = 0;
    for (uint64_t i = 0; i <= fewer; i++) {
        double k = (double)i;
        sum += exp(lgamma(n + 1) - lgamma(k + 1) - lgamma(n - k + 1) - n * M_LN2);
    }
    return fmin(1, 2 * sum);
}

double sign_flip_upper(const int *values, size_t count)
{
    size_t reach = 0;
    int64_t seen = 0;
    for (size_t i = 0; i < count; i++) {
        reach += (size_t)abs(values[i]);
        seen += values[i];
    }
    /* chance[k]: that the values that flipped to minus so far add up to k. */
    double *chance = calloc(reach + 1, sizeof *chance);
    if (!chance)
        return NAN;
    size_t top = 0;
    chance[0] = 1;
    for (size_t i = 0; i < count; i++) {
        size_t size = (size_t)abs(values[i]);
        top += size;
        for (size_t k = top + 1; size > 0 && k-- > 0;)
            chance[k] = ((k + size <= top ? chance[k] : 0) + (k >= size ? chance[k - size] : 0)) / 2;
    }
    /* The sum is reach - 2 k. */
    double upper = 0;
    for (size_t k = 0; k <= reach && (int64_t)reach - 2 * (int64_t)k >= seen; k++)
        upper += chance[k];
    free(chance);
    return fmin(1, upper);
}

double two_sided(double upper, double lower)
{
    return fmin(1, 2 * fmin(upper, lower));
}

double mean(const double *values, size_t count)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return sum / (double)count;
}

void holm_adjust_weighted(const double *p_values, const double *weights, size_t count, double *adjusted)
{
    /* The greatest, over this and all that are smaller for their weight, of p over the share that its weight
     * has of those that are not smaller. Quadratic: there are few. */
    double scaled[count ? count : 1], ratios[count ? count : 1];
    for (size_t i = 0; i < count; i++)
        ratios[i] = p_values[i] / weights[i];
    for (size_t i = 0; i < count; i++) {
        double left = 0;
        for (size_t j = 0; j < count; j++)
            left += ratios[j] > ratios[i] || (ratios[j] == ratios[i] && j >= i) ? weights[j] : 0;
        scaled[i] = fmin(1, left * ratios[i]);
    }
    for (size_t i = 0; i < count; i++) {
        double greatest = scaled[i];
        for (size_t j = 0; j < count; j++)
            if (ratios[j] <= ratios[i])
                greatest = fmax(greatest, scaled[j]);
        adjusted[i] = greatest;
    }
}

void holm_adjust(const double *p_values, size_t count, double *adjusted)
{
    double weights[count ? count : 1];
    for (size_t i = 0; i < count; i++)
        weights[i] = 1;
    holm_adjust_weighted(p_values, weights, count, adjusted);
}
