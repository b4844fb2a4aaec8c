/* A hash of bytes for the record: it tells apart what differs by accident, not what somebody has forged.
 *
 * 64-bit FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo). */
#ifndef PAWNVANE_BYTE_HASH_H
#define PAWNVANE_BYTE_HASH_H

#include <stddef.h>
#include <stdint.h>

#define BYTE_HASH_START UINT64_C(0xCBF29CE484222325)

/* The hash of what has been hashed before and of these bytes behind it. */
static inline uint64_t byte_hash(uint64_t hash, const void *bytes, size_t count)
{
    for (const unsigned char *at = bytes; count > 0; at++, count--)
        hash = (hash ^ *at) * UINT64_C(0x100000001B3);
    return hash;
}

#endif
