/* The finaliser of SplitMix64 (G. Steele, D. Lea, C. Flood, "Fast Splittable Pseudorandom Number Generators", OOPSLA
 * 2014): a bijection in which each bit depends on all. Pure and inline, as bitboard.h. */
#ifndef PAWNVANE_MIX_H
#define PAWNVANE_MIX_H

#include <stdint.h>

static inline uint64_t mix_bits(uint64_t bits)
{
    bits = (bits ^ bits >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
    bits = (bits ^ bits >> 27) * UINT64_C(0x94D049BB133111EB);
    return bits ^ bits >> 31;
}

#endif
