/* Statistics: pure functions, no state. Probabilities are fractions, not percent. */
#ifndef PAWNVANE_STATISTICS_H
#define PAWNVANE_STATISTICS_H

#include <stddef.h>
#include <stdint.h>

typedef struct Interval {
    double low, high;
} Interval;

/* The probability that a standard normal variable is at most x. */
double normal_cdf(double x);

/* The x with normal_cdf(x) = p, for p from 0 to 1 (-infinity and infinity at the ends). Starts from the
 * rational approximation 26.2.23 of M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 1964,
 * and refines it by Halley's method to the precision of a double. */
double normal_quantile(double p);

/* The share of the beta function with those parameters (above 0) below x, 0 to 1: the regularised incomplete
 * beta function by its continued fraction (Abramowitz and Stegun, 26.5.8). */
double beta_lower(double a, double b, double x);

/* The probability that Student's t with that many degrees of freedom (1 or more) is greater than t.
 * "Student", "The Probable Error of a Mean", Biometrika 6, 1908; by the beta function (Abramowitz and
 * Stegun, 26.7.1), and from 100,000 degrees on by the normal approximation 26.7.8. */
double student_upper(double t, double degrees);

/* The same for the F distribution with so many degrees of freedom (above 0) of the numerator and the
 * denominator (Abramowitz and Stegun, 26.6.2). */
double f_upper(double f, double numerator, double denominator);

/* The t with student_upper(t, degrees) = 1 - p: exact for 1 and 2 degrees; for more the expansion 26.7.5 of
 * Abramowitz and Stegun, refined by Newton's method to about nine digits for p from 0.0005 to 0.9995. */
double student_quantile(double p, double degrees);

/* The probability that a chi-square variable with that many degrees of freedom (above 0) is greater than x:
 * the regularised incomplete gamma function by its series or its continued fraction (Abramowitz and
 * Stegun, 26.4, 6.5.29 and 6.5.31). */
double chi_square_upper(double x, double degrees);

/* The interval for a proportion, given how many of `trials` were successes; 0 to 1 without trials.
 * E. B. Wilson, "Probable Inference, the Law of Succession, and Statistical Inference", Journal of the
 * American Statistical Association 22, 1927. */
Interval wilson_interval(uint64_t successes, uint64_t trials, double confidence);

/* The exact two-sided McNemar test for paired yes-no outcomes: the probability, if neither arm is better, of
 * a split of the discordant pairs at least as uneven as this one. `only_a` pairs succeeded with the first arm
 * alone, `only_b` with the second alone; 1 without any. Q. McNemar, "Note on the sampling error of the
 * difference between correlated proportions or percentages", Psychometrika 12, 1947; exact by the binomial
 * distribution, as F. Mosteller, Biometrics 8, 1952. */
double mcnemar_exact(uint64_t only_a, uint64_t only_b);

/* The exact sign-flip test of differences: the probability, if each value could as well have had the other
 * sign, of a sum at least as great as theirs. The distribution is the convolution of the single flips, over
 * all sums there are. R. A. Fisher, "The Design of Experiments", 1935, section 21; E. J. G. Pitman,
 * "Significance Tests which may be Applied to Samples from any Populations", Supplement to the Journal of the
 * Royal Statistical Society 4, 1937. Zeros do not matter. Takes time and memory in proportion to the sum of
 * the sizes; NaN if memory runs out. */
double sign_flip_upper(const int *values, size_t count);

/* The two-sided P of the two one-sided ones: twice the smaller, 1 at most. */
double two_sided(double upper, double lower);

/* NaN of no values. */
double mean(const double *values, size_t count);

/* P-values adjusted for there being `count` of them, in the order of the input; `adjusted` may be the input.
 * S. Holm, "A Simple Sequentially Rejective Multiple Test Procedure", Scandinavian Journal of Statistics 6,
 * 1979. */
void holm_adjust(const double *p_values, size_t count, double *adjusted);

/* The same where some tests have a greater share of the level than others: his procedure with the P values
 * over their weights (above 0; section 4 of that paper, from memory). */
void holm_adjust_weighted(const double *p_values, const double *weights, size_t count, double *adjusted);

#endif
