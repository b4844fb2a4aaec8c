/* Games of a PGN file, for a sample: what people, or two engines, have played. */
#ifndef PAWNVANE_FIT_GAMES_H
#define PAWNVANE_FIT_GAMES_H

#include "bench/fit/fit_sample.h"

/* Adds the quiet positions of the games in the file ("-" is the standard input), games numbered from 1. A move that was
 * played stands for the best one; what anybody thought of the position is not known, so that no score is too
 * clear. Games without a result are left out, and of one with a null move all that comes behind it. Broken games are
 * reported and left out. False on failure (reported): no file, a file that ends within a game, no game with a result,
 * memory runs out. */
bool fit_games_read(FitSample *sample, const char *path, int plies_back);

#endif
