/* Private to structure/: structures that have grown between two versions. */
#ifndef PAWNVANE_STRUCTURE_GROW_H
#define PAWNVANE_STRUCTURE_GROW_H

#include <stddef.h>
#include <string.h>

/* Copies a structure into one of another version: what is new there becomes zero. */
static inline void copy_grown(void *to, size_t to_size, const void *from, size_t from_size)
{
    size_t both = to_size < from_size ? to_size : from_size;
    memcpy(to, from, both);
    memset((char *)to + both, 0, to_size - both);
}

#endif
