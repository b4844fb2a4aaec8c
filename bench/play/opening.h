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

/* Keeps those of the strata in a list of names with commas between, as many as the file has. False, with `unknown` set to the
 * first name that no opening has, if there is one. */
bool openings_select(OpeningSet *set, const char *names, char unknown[64]);

/* As openings_read(), and keeps those of the strata in a list of names; null: all. A name that no opening has is reported. */
bool openings_read_strata(OpeningSet *set, const char *path, const char *names);

/* Draws openings number `first` and the `count` - 1 after it: positions after a few quiet moves of each side,
 * one after another until a shallow search finds neither side ahead by more than OPENING_DRAWN_BALANCE
 * centipawns. An opening depends on the seed and its number alone, and no two of a seed are alike: whoever plays
 * a share draws that share. `first` + `count` is OPENINGS_DRAWN_MOST at most. */
enum { OPENING_DRAWN_BALANCE = 60, OPENINGS_DRAWN_MOST = 10000000 };
bool openings_draw(OpeningSet *set, size_t first, size_t count, uint64_t seed, int workers);

/* Puts `count` of them in the order in which they are to be played, and drops the rest. Shuffled by the seed
 * within each stratum, one of each stratum in turn is taken until there are enough; then each stratum is spread
 * evenly over the whole. So every stretch of a match is a small copy of it, be it a beginning or a share. */
bool openings_arrange(OpeningSet *set, size_t count, uint64_t seed);

/* So many openings, one a game, in the order in which they are to be played: those of a file, which must have as many; null:
 * drawn from the seed. */
bool openings_get(OpeningSet *set, const char *path, size_t games, uint64_t seed, int workers);

/* How many openings each stratum has; by OpeningSet.strata. */
void openings_count_strata(const OpeningSet *set, size_t counts[STRATA_MAX]);

/* A hash of all names, strata and positions in their order. */
uint64_t openings_hash(const OpeningSet *set);

/* Keeps `count` of them from number `first` on. */
void openings_keep(OpeningSet *set, size_t first, size_t count);

void openings_free(OpeningSet *set);

#endif
