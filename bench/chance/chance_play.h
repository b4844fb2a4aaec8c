/* Games that the engine plays against itself, for a sample of the moves that it searches. */
#ifndef PAWNVANE_CHANCE_PLAY_H
#define PAWNVANE_CHANCE_PLAY_H

#include "bench/chance/chance_sample.h"
#include "bench/play/self_play.h"

/* Plays the games, CHANCE_GAMES_MAX at most, and adds the moves sampled in them, games numbered from 1. False on failure
 * (reported). */
bool chance_play(ChanceSample *sample, const SelfPlay *play);

#endif
