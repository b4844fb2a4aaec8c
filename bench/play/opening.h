/* The positions that games of an experiment start from. */
#ifndef PAWNVANE_OPENING_H
#define PAWNVANE_OPENING_H

#include "engine/rules/position.h"

#include <stddef.h>

enum { STRATA_MAX = 32 };

typedef struct Opening {
    Position position;
    char *name;
    int stratum; /* index into OpeningSet.strata */
} Opening;

typedef struct OpeningSet {
    size_t count, capacity;
    Opening *items;
    int stratum_count;
    char *strata[STRATA_MAX]; /* their names, in the order of first mention */
} OpeningSet;

/* These three: false on failure (reported); free the set all the same. */

/* Reads EPD lines: `id` is the name (else the line number), `c0` the stratum (else "all"). Refuses positions
 * without a legal move, and one that is there twice. */
bool openings_read(OpeningSet *set, const char *path);

/* Draws positions: a few random plies from the initial position, drawn again until a shallow search finds
 * neither side ahead by more than OPENING_DRAWN_BALANCE centipawns. Depends on the seed and
 * the number alone. */
enum { OPENING_DRAWN_BALANCE = 60 };
bool openings_draw(OpeningSet *set, size_t count, uint64_t seed, int workers);

/* Puts the first `count` in the order in which they are to be played: shuffled within each stratum by the
 * seed, then one of each stratum in turn, so that every beginning of a match is spread evenly over the
 * strata. Drops the rest. */
bool openings_arrange(OpeningSet *set, size_t count, uint64_t seed);

void openings_free(OpeningSet *set);

#endif
