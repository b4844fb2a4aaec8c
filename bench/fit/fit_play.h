/* Games that the engine plays against itself, for a sample. */
#ifndef PAWNVANE_FIT_PLAY_H
#define PAWNVANE_FIT_PLAY_H

#include "bench/fit/fit_sample.h"
#include "bench/play/self_play.h"

/* Plays the games, FIT_GAME_MAX at most, and adds their quiet positions, games numbered from 1; for `plies_back` see
 * fit_sample.h. False on failure (reported). */
bool fit_play(FitSample *sample, const SelfPlay *play, int plies_back);

#endif
