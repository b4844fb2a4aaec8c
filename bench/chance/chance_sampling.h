/* A search that samples moves: at one node of 24, chosen by the position's key, nothing is left out and nothing reduced, and
 * of each move but the first it is noted what the tables ask of it and whether it raised alpha. What ends a node before any move
 * is looked at stays, for the tables are asked at other nodes only.
 *
 * The search is that of engine/search/search.c, compiled once more with other words in a few places: the engine's own
 * pays nothing for it. */
#ifndef PAWNVANE_CHANCE_SAMPLING_H
#define PAWNVANE_CHANCE_SAMPLING_H

#include "bench/chance/chance_sample.h"
#include "engine/search/player.h"

enum { SAMPLED_ONE_OF = 24 };

typedef struct MoveSampler {
    SearchProbe probe;             /* for the settings of a player with one worker */
    ChanceSample *sample;          /* where moves go; set before a search */
    uint32_t game;                 /* whose number they get */
    bool failed;                   /* memory ran out */
    ChanceMove begun[MAX_PLY + 1]; /* by ply: what is being searched */
} MoveSampler;

/* Looks on at all searches of a player from now on, in the place of a sampler before it. The sampler must stay until another
 * takes its place, or as long as the player searches. */
void move_sampler_attach(MoveSampler *sampler, Player *player);

#endif
