/* The static scores of positions met of late: about one in seven that the search asks for is of a position that was
 * looked at before and then left out, so that the transposition table knows nothing of it. */
#ifndef PAWNVANE_SCORE_MEMORY_H
#define PAWNVANE_SCORE_MEMORY_H

#include <stdbool.h>
#include <stdint.h>

/* A power of two. A worker's memory of 256 KiB stays in the second cache. */
enum { SCORE_MEMORY_SIZE = 1 << 15, SCORE_MEMORY_BITS = 16 };

/* Each slot: the upper 48 bits of a key, then the score. The lower bits of the key say which slot. */
typedef struct ScoreMemory {
    uint64_t slots[SCORE_MEMORY_SIZE];
} ScoreMemory;

/* Whether the score of that key, which is of all that the score depends on, is remembered. */
static inline bool score_remembered(const ScoreMemory *memory, uint64_t key, int *score)
{
    uint64_t slot = memory->slots[key % SCORE_MEMORY_SIZE];
    *score = (int16_t)slot;
    return slot && slot >> SCORE_MEMORY_BITS == key >> SCORE_MEMORY_BITS;
}

static inline void score_remember(ScoreMemory *memory, uint64_t key, int score)
{
    memory->slots[key % SCORE_MEMORY_SIZE] =
        (key >> SCORE_MEMORY_BITS << SCORE_MEMORY_BITS) | (uint16_t)(int16_t)score;
}

#endif
