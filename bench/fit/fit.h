/* Fitting the weights of the evaluation, those of the lever term too, to the results of games.
 *
 * The method: the probability that White wins is taken to be 1 / (1 + exp(-evaluation / scale)), and the
 * weights are moved until the results are as likely as possible (logistic regression of the outcome of games
 * on linear features: M. Buro, "From Simple Features to Sophisticated Evaluation Functions", Computers and
 * Games, 1998; from memory). The loss is the mean negative logarithm of the probability given to the results,
 * in nats; a draw counts as half a win and half a loss, so that it cannot reach 0.
 *
 * A share of what is fitted to can be what the search of the player expected, as a probability, instead of
 * the result: that is known for each position by itself and far less a matter of luck, so that fewer games
 * do. The losses reported are against the results alone.
 *
 * The scale is fitted first, to the evaluation as it is, and then stays: else scores would lose their unit.
 * Each weight has a normal prior round its present value, every game counted once, since its positions share
 * one result; a weight that no position of the fitted games shows stays exactly as it is. Every fifth family
 * of games (see fit_fold.h) is held out. What the evaluation is not linear in, its units, is tuned between
 * two fits, see fit_units.h. How surely games tell the weights of the lever term, says fit_worth.h. */
#ifndef PAWNVANE_FIT_H
#define PAWNVANE_FIT_H

#include "bench/base/means.h"
#include "bench/fit/fit_sample.h"
#include "bench/fit/fit_weights.h"

typedef struct FitSettings {
    int steps;    /* of descent, FIT_ROUNDS or more */
    double prior; /* standard deviation of the prior, in units of a weight */
    double scale; /* centipawns; 0: fit it */
    double blend; /* share of the scores of the search in what is fitted to, 0 to 1 */
    int passes;   /* over the units, see fit_units.h; after each the weights are fitted again */
    int workers;
    bool quiet; /* no progress line */
} FitSettings;

/* The lever term is not linear in its weights, since the best lever counts and grades are factors: it is
 * linearised anew at the beginning of each round. */
enum { FIT_ROUNDS = 4 };

typedef struct FitPart {
    size_t games, positions;
    double before, after; /* the loss by the engine's own evaluation, whole centipawns and all */
} FitPart;

typedef struct FitReport {
    double scale;        /* centipawns */
    double search_scale; /* the same for what the search thought; NaN if that is not known of all positions */
    FitPart fitted, held_out;
    ClusteredMean change; /* of the loss on the part held out, with its error */
    int halves;           /* weights, middlegame and endgame counted apart */
    int unseen;           /* of them in no position of the fitted games */
    int changed;          /* of them */
} FitReport;

/* Fits the weights, in place, beginning with what they are. The same sample gives the same result for any
 * number of workers. On failure (reported: a part of the sample is empty, memory runs out) the weights
 * are as they were. */
bool fit(FitWeights *weights, const FitSample *sample, const FitSettings *settings, FitReport *report);

#endif
