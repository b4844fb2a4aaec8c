#include "bench/base/array.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

bool array_grow(void *array, size_t *capacity, size_t count, size_t more, size_t size)
{
    enum { LEAST = 16 };
    size_t needed = count + more, wanted = 2 * *capacity;
    void *items;
    if (needed <= *capacity)
        return true;
    if (wanted < needed)
        wanted = needed < LEAST ? LEAST : needed;
    if (needed < count || wanted > PTRDIFF_MAX / size)
        return false;
    /* By memcpy(), because the pointer has a type of its own. */
    memcpy(&items, array, sizeof items);
    items = realloc(items, wanted * size);
    if (items == NULL)
        return false;
    memcpy(array, &items, sizeof items);
    *capacity = wanted;
    return true;
}
