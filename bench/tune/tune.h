/* Tuning of several parameters of the search together, by simultaneous perturbation: in each trial every
 * parameter is moved up or down by a coin's toss, two such sides play each other, and all parameters go a
 * little towards the side that did better. One trial costs a pair of games, however many parameters there
 * are.
 *
 * J. C. Spall, "Multivariate Stochastic Approximation Using a Simultaneous Perturbation Gradient
 * Approximation", IEEE Transactions on Automatic Control 37(3), 1992. The exponents and the offset of a tenth
 * of the steps: J. C. Spall, "Implementation of the Simultaneous Perturbation Algorithm for Stochastic
 * Optimization", IEEE Transactions on Aerospace and Electronic Systems 34(3), 1998 (from memory). */
#ifndef PAWNVANE_TUNE_H
#define PAWNVANE_TUNE_H

#include "bench/base/random.h"
#include "engine/search/parameters.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct TunedParameter {
    int index;    /* into parameter_table */
    double step;  /* how far it is moved in the last trials; further in the first ones */
    double value; /* between two whole numbers, trials toss for one of them */
} TunedParameter;

typedef struct Tuning {
    int count;
    TunedParameter tuned[PARAMETER_COUNT];
    Parameters fixed;      /* the others */
    size_t rounds, trials; /* trials in a round: all of them start from the same values */
    double rate;           /* of the last rounds: how many steps a half point moves each parameter */
    uint64_t seed;
} Tuning;

/* The two sides of a trial. */
typedef struct Trial {
    Parameters up, down;
    signed char signs[PARAMETER_COUNT]; /* by number in `tuned`: which way `up` went */
    int points;                         /* result: half points of `up` less those of `down` */
} Trial;

/* Draws the sides of trial 0 .. trials - 1 of round 0 .. rounds - 1. It depends on the seed, the values and
 * these numbers only. */
void tuning_draw(const Tuning *tuning, size_t round, size_t number, Trial *trial);

/* Moves the values by the results of a round. They stay within their bounds. */
void tuning_learn(Tuning *tuning, size_t round, const Trial *trials);

/* The parameters with the values as they are now, rounded. */
Parameters tuning_parameters(const Tuning *tuning);

#endif
