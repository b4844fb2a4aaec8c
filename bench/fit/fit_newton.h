/* The likeliest weights exactly, and how sharply the games tell them: Newton's method, for measuring.
 *
 * The model is that of fit.h with everything linear: the term's slopes, and which side the endgame favours, are
 * those at the centre, and stay. What is minimised is the sum of the losses of all rows, held out or not, and the prior's share. */
#ifndef PAWNVANE_FIT_NEWTON_H
#define PAWNVANE_FIT_NEWTON_H

#include "bench/fit/fit_model.h"

/* Behind the weights stands one more: the whole of the term as it is at the centre, in percent. */
enum { FIT_WHOLE = FIT_DIMENSION, NEWTON_DIMENSION };

typedef struct NewtonEntry {
    int column;
    double value; /* centipawns for each unit of the weight */
} NewtonEntry;

enum { NEWTON_ENTRIES_MAX = 2 * PAIR_COUNT + PS_WEIGHT_COUNT };

typedef struct FitNewton {
    const FitFeatures *features;
    double scale; /* centipawns */
    double pull;  /* of the prior on each free weight that is not the term's: rows / (games * its variance) */
    bool whole;   /* the term enters as FIT_WHOLE, not part by part */
    /* Free weights are columns 0 .. columns - 1; the column of a weight that is held is -1. */
    int columns, column_of[NEWTON_DIMENSION], weight_of[NEWTON_DIMENSION];
    double centre[NEWTON_DIMENSION], weights[NEWTON_DIMENSION];
    /* After fit_newton(): the Cholesky factor of the second derivative of the loss, `columns` squared, to free. */
    double *factor;
} FitNewton;

typedef enum NewtonEnd { NEWTON_DONE, NEWTON_NO_MEMORY, NEWTON_LOST } NewtonEnd;

/* Moves the weights from where they are to where the loss is least, to far less than their errors. The columns are set.
 * NEWTON_LOST: there is no such place, since some weights can grow without end or cannot be told apart. */
NewtonEnd fit_newton(FitNewton *newton);

/* The free weights that a row depends on, and how strongly its loss pulls: the derivative of the loss with
 * respect to a weight is the value of its entry times *push. Returns how many entries there are. */
int fit_newton_row(const FitNewton *newton, const FitRow *row, NewtonEntry entries[NEWTON_ENTRIES_MAX],
                   double *push);

#endif
