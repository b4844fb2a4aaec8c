/* The units of the evaluation, what it is not linear in, tuned by trial: one at a time goes up or down for as
 * long as that lowers the loss of the fitted games (coordinate search). */
#ifndef PAWNVANE_FIT_UNITS_H
#define PAWNVANE_FIT_UNITS_H

#include "bench/fit/fit_sample.h"
#include "bench/fit/fit_weights.h"

/* One pass over all of them, number `pass`: the first goes in steps of 8, each later one in half of that.
 * Changes weights->eval.units only. False if memory runs out. */
bool fit_units_search(FitWeights *weights, const FitSample *sample, double scale, double blend, int pass,
                      bool quiet);

#endif
