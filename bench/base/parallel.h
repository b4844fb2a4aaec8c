/* Many jobs on several threads, results in order.
 *
 * Three steps for each item: `take` fetches it and `deliver` uses it, both on the calling thread and strictly
 * in order; `run` works on it in between, on a thread of its own, many at once. Only a few items a worker are
 * in memory at a time, however many there are and however unequal the work. */
#ifndef PAWNVANE_PARALLEL_H
#define PAWNVANE_PARALLEL_H

#include <stdbool.h>
#include <stddef.h>

typedef enum Taken { TAKEN_ITEM, TAKEN_END, TAKEN_FAILED } Taken;

typedef struct Parallel {
    int workers;      /* threads, 1 or more */
    size_t item_size; /* bytes; an item keeps its place in memory from take to deliver */
    void *context;    /* handed to every function */

    /* Fills item number `index` (0, 1, 2, ...), whose bytes are zero, or says that there are no more. */
    Taken (*take)(void *context, size_t index, void *item);

    /* Works on an item. `own` is the worker's own state. False is a failure. */
    bool (*run)(void *context, void *own, size_t index, void *item);

    /* Uses an item that is done, and frees what it holds. False is a failure. */
    bool (*deliver)(void *context, size_t index, void *item);

    /* Frees what an item holds that was taken but will not be delivered; null if that is nothing. */
    void (*discard)(void *context, void *item);

    /* Make and free a worker's own state; both null if there is none. A null state is a failure. */
    void *(*worker_new)(void *context);
    void (*worker_free)(void *context, void *own);
} Parallel;

/* Runs until there are no more items, or until something fails: then no item is begun any more, those that
 * run are waited for, and the result is false. Everything before the first failed item (in order) has been
 * delivered, nothing behind it. False, too, if memory or threads run out. */
bool parallel_run(const Parallel *parallel);

/* How many processors this program may use: a good number of workers. */
int parallel_processors(void);

#endif
