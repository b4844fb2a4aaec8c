/* Games that know of each other go to the same part of a fit, and no game is there twice.
 *
 * The engine that plays for a sample is deterministic: from one opening it plays one game, however often it
 * is asked. A copy among the games held out would be foretold by the one that was fitted, and copies among
 * those fitted would count for several. */
#ifndef PAWNVANE_FIT_FOLD_H
#define PAWNVANE_FIT_FOLD_H

#include "bench/fit/fit_sample.h"

/* Leaves out games that have the same positions and the same result as one before them, and counts them. Then
 * gives all games that have a position in common, directly or through others, one family; its number is that
 * of its first game. Before the sample is thinned, which hides what is common. False if memory runs out. */
bool fit_fold(FitSample *sample, size_t *copies);

#endif
