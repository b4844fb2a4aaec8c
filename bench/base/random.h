/* Random numbers that are the same everywhere for the same seed.
 *
 * The generator is xoshiro256**, seeded through SplitMix64 (D. Blackman, S. Vigna, "Scrambled Linear
 * Pseudorandom Number Generators", ACM Transactions on Mathematical Software 47, 2021). Not for secrets. */
#ifndef PAWNVANE_RANDOM_H
#define PAWNVANE_RANDOM_H

#include <stdint.h>

typedef struct Random {
    uint64_t state[4];
} Random;

/* Any seed is good. */
Random random_seeded(uint64_t seed);

/* A generator for one of many jobs: it depends on the seed and the job's number alone, so that the jobs draw
 * the same numbers in whatever order and on whatever machine they run. */
Random random_for_job(uint64_t seed, uint64_t job);

/* 64 random bits. */
uint64_t random_next(Random *random);

/* A whole number from 0 to bound - 1, all equally likely. `bound` is 1 or more. */
uint64_t random_below(Random *random, uint64_t bound);

/* A number from 0 inclusive to 1 exclusive, in steps of 2^-53. */
double random_unit(Random *random);

/* One step of SplitMix64: moves *state on and returns 64 well-mixed bits. */
uint64_t random_split_mix(uint64_t *state);

#endif
