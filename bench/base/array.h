/* Arrays that grow. */
#ifndef PAWNVANE_ARRAY_H
#define PAWNVANE_ARRAY_H

#include <stdbool.h>
#include <stddef.h>

/* Makes room for `more` items behind the first `count` of an array, a pointer from malloc() or null, that has
 * room for `capacity` (a size_t). Doubles it at least, so that adding one item after the other takes linear
 * time. False if memory runs out: the array is then as it was.
 *
 *     if (!array_reserve(moves, capacity, count, 1))
 *         return false;
 *     moves[count++] = move;
 */
#define array_reserve(array, capacity, count, more)                                                          \
    array_grow(&(array), &(capacity), (size_t)(count), (more), sizeof *(array))

/* The same for items whose size is not that of what the pointer at `array` points to. */
bool array_grow(void *array, size_t *capacity, size_t count, size_t more, size_t size);

#endif
