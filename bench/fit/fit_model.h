/* The descent: weights as one vector, moved to where the results of games are most likely. See fit.h for the
 * method. */
#ifndef PAWNVANE_FIT_MODEL_H
#define PAWNVANE_FIT_MODEL_H

#include "bench/fit/fit_features.h"
#include "bench/fit/fit_weights.h"

/* Each Pair's middlegame half and endgame half, then the lever weights. */
enum { FIT_LEVER = 2 * PAIR_COUNT, FIT_DIMENSION = FIT_LEVER + PS_WEIGHT_COUNT };

void fit_to_vector(const FitWeights *weights, double vector[FIT_DIMENSION]);

typedef struct FitModel {
    const FitFeatures *features; /* of rows held out nothing is learned */
    double scale;                /* centipawns */
    double pull;                 /* of the prior: 1 / (games * its variance) */
    double blend;                /* see fit_goal() */
    int steps;                   /* in all */
    int workers;
    double centre[FIT_DIMENSION]; /* of the prior */
    double weights[FIT_DIMENSION];
    /* of the descent */
    int step;
    double momentum[FIT_DIMENSION], spread[FIT_DIMENSION];
} FitModel;

/* What the probability of a win for White should be: the result of the game, or of that and of what the
 * search expected, whose share is `blend`. */
double fit_goal(double result, int score, double scale, double blend);

/* The evaluation of a row under weights, in centipawns for White. */
double fit_row_score(const FitFeatures *features, const FitRow *row, const double weights[FIT_DIMENSION]);

/* The mean loss of the fitted rows plus the prior's share, and its gradient. False if memory runs out. */
bool fit_model_loss(const FitModel *model, double *loss, double gradient[FIT_DIMENSION]);

/* One step of full-batch gradient descent by D. Kingma, J. Ba, "Adam: A Method for Stochastic Optimization",
 * 2015 (constants of the paper, from memory), the steps shrinking to nothing along half a cosine; the lever
 * weights are kept sound. A weight without influence on any fitted row stays. False if memory runs out. */
bool fit_model_step(FitModel *model);

#endif
