/* How well evaluations foretell the results of games, by the engine's own evaluate(). */
#ifndef PAWNVANE_FIT_LOSS_H
#define PAWNVANE_FIT_LOSS_H

#include "bench/base/means.h"
#include "bench/fit/fit_sample.h"
#include "bench/fit/fit_weights.h"

/* The evaluations of all positions under the weights, centipawns for White, as an array to free; null if
 * memory runs out. */
int *fit_scores(const FitSample *sample, const FitWeights *weights);

/* The mean log-loss of one part of the sample against fit_goal(), in nats; with a blend of 0 against results.
 * NaN of no positions. */
double fit_loss(const FitSample *sample, const int *scores, bool held_out, double scale, double blend);

/* By how much the loss on the games held out changes from one evaluation to the other, against results:
 * positions of a family are no independent witnesses, families are. False if memory runs out. */
bool fit_loss_change(const FitSample *sample, const int *before, const int *after, double scale,
                     ClusteredMean *change);

/* The scale, 10 to 5000 centipawns, with the least loss on the fitted part, by golden-section search. */
double fit_scale(const FitSample *sample, const int *scores);

#endif
