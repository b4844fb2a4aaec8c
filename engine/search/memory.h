/* Large stretches of memory from the system, all zero, whose pages cost nothing before they are used. */
#ifndef PAWNVANE_MEMORY_H
#define PAWNVANE_MEMORY_H

#include <stdbool.h>
#include <stddef.h>

/* Null if the system has less than that to give, counting what this process holds already as available. In
 * huge pages where the system grants them, and always so many whole ones. */
void *memory_map(size_t bytes);
void memory_unmap(void *memory, size_t bytes);

/* Makes it all zero again and gives its pages back. */
void memory_clear(void *memory, size_t bytes);

#endif
