#include "bench/base/random.h"
#include "structure/mix.h"

uint64_t random_split_mix(uint64_t *state)
{
    return mix_bits(*state += UINT64_C(0x9E3779B97F4A7C15));
}

Random random_seeded(uint64_t seed)
{
    Random random;
    for (int i = 0; i < 4; i++)
        random.state[i] = random_split_mix(&seed);
    return random;
}

Random random_for_job(uint64_t seed, uint64_t job)
{
    /* Mixed before they meet, so that (seed, job) and (seed + 1, job - 1) have nothing in common. */
    uint64_t mixed = random_split_mix(&seed);
    mixed ^= job;
    return random_seeded(random_split_mix(&mixed));
}

static uint64_t rotate_left(uint64_t x, int count)
{
    return (x << count) | (x >> (64 - count));
}

uint64_t random_next(Random *random)
{
    uint64_t *s = random->state;
    uint64_t result = rotate_left(s[1] * 5, 7) * 9;
    uint64_t shifted = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= shifted;
    s[3] = rotate_left(s[3], 45);
    return result;
}

uint64_t random_below(Random *random, uint64_t bound)
{
    /* The lowest 2^64 mod bound values would favour small results; they are drawn again. */
    uint64_t unfair = -bound % bound, bits;
    do
        bits = random_next(random);
    while (bits < unfair);
    return bits % bound;
}

double random_unit(Random *random)
{
    return (double)(random_next(random) >> 11) * 0x1p-53;
}
