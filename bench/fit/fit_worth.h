/* What each part of the lever term is worth by the results of games, when everything else is known.
 *
 * All weights of the evaluation are free, with the prior of fit.h; those of the term are free without any prior, bounds
 * or order, so that what is said of them comes from the games alone, and may be negative. (Their order is what
 * the engine needs to play well; here it is a question.) The evaluation is tapered, and the term is not, as in
 * evaluate(). Nothing is held out.
 *
 * The term is linearised at the engine's weights: the lever that scores is the one that scores for the engine, and of
 * the weights of grades, which are factors, the tangent is taken. So a centipawn of a lever table is what a firm
 * chain's lever is worth, with the engine's percentages for the other grades, and a grade's own value says how much
 * of the engine's table a chain of that grade is worth, if the firm ones are worth what was found.
 *
 * Errors are by the bootstrap of games: each resample draws as many games as there are, with replacement, all
 * positions of a game together, since they share its result (B. Efron, "Bootstrap Methods: Another Look at the
 * Jackknife", Annals of Statistics 7, 1979; for clusters A. Davison and D. Hinkley, "Bootstrap Methods and their
 * Application", 1997, section 3.8, from memory). A resample is not fitted anew: one step of Newton from the
 * optimum of all games, with their second derivative, leads to its optimum, up to what is small beside the error
 * (J. Shao and D. Tu, "The Jackknife and Bootstrap", 1995, section 5.4 on one-step bootstraps, from memory). The
 * standard error is the standard deviation of resamples, the interval goes from their 2.5th to their 97.5th
 * percentile. */
#ifndef PAWNVANE_FIT_WORTH_H
#define PAWNVANE_FIT_WORTH_H

#include "bench/base/statistics.h"
#include "bench/fit/fit_features.h"
#include "bench/fit/fit_weights.h"

#include <math.h>

typedef struct WorthSettings {
    double scale; /* centipawns */
    double prior; /* standard deviation, in units of a weight; INFINITY for none */
    int resamples;
    uint64_t seed;
} WorthSettings;

/* Weights that show in fewer games stay as they are. From so many on, intervals have been checked to hold the truth as
 * often as they say (tests/bench/fit/test_worth.c); of fewer games a bootstrap makes them too narrow. */
enum { WORTH_GAMES_LEAST = 40, WORTH_RESAMPLES_MAX = 100000 };

typedef struct Worth {
    bool known; /* else only `games` and `positions` mean anything */
    double value, error;
    Interval interval;       /* 95 % */
    size_t games, positions; /* in which it counts */
} Worth;

/* What is asked beside each weight. The lever tables are worth what a lever would be without support, room or
 * pieces, which hardly is ever so; errors that tables, room and pieces share show there and not here. The usual is the mean
 * over the positions in which one side alone has a base lever that scores. */
typedef enum WorthStep {
    WORTH_BASE_PLAYED, /* base lever played rather than ready */
    WORTH_BASE_DONE,   /* base lever exchanged, which counts as full support, rather than ready */
    WORTH_HEAD_PLAYED,
    WORTH_HEAD_DONE,
    WORTH_BASE_USUAL, /* base lever ready, with the support, room and pieces that it usually has */
    WORTH_STEP_COUNT
} WorthStep;

typedef struct FitWorth {
    size_t games, positions;
    Worth weights[PS_WEIGHT_COUNT]; /* in the units of ps_weights, but room in centipawns a square */
    Worth steps[WORTH_STEP_COUNT];  /* centipawns */
    double usual[3];                /* of WORTH_BASE_USUAL: surplus of supporters, squares of room, pieces */
    Worth whole;                    /* percent of the term as it is, if only its size is free */
} FitWorth;

/* `games` has the game of each row. The features are linearised at weights->lever. False on failure (reported):
 * memory runs out, or the games do not tell the weights. */
bool fit_worth(FitWorth *worth, const FitFeatures *features, const uint32_t *games, const FitWeights *weights,
               const WorthSettings *settings);

#endif
