#include "engine/search/race.h"

#include <string.h>

void race_create(Race *race)
{
    pthread_mutex_init(&race->lock, NULL);
}

void race_destroy(Race *race)
{
    pthread_mutex_destroy(&race->lock);
}

void race_start(Race *race)
{
    atomic_store(&race->depth, 0);
}

static void copy(RootMoves *to, const RootMoves *from)
{
    to->count = from->count;
    memcpy(to->list, from->list, (size_t)from->count * sizeof *from->list);
}

void race_hand_over(Race *race, const RootMoves *root, int depth)
{
    pthread_mutex_lock(&race->lock);
    if (race->depth < depth) {
        copy(&race->root, root);
        atomic_store_explicit(&race->depth, depth, memory_order_relaxed);
    }
    pthread_mutex_unlock(&race->lock);
}

int race_take_over(Race *race, RootMoves *root)
{
    pthread_mutex_lock(&race->lock);
    copy(root, &race->root);
    int depth = race->depth;
    pthread_mutex_unlock(&race->lock);
    return depth;
}
