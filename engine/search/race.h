/* The race of several workers to finish an iteration: whoever is first hands its moves over to the others,
 * who leave theirs and go on with the next. */
#ifndef PAWNVANE_RACE_H
#define PAWNVANE_RACE_H

#include "engine/search/root_moves.h"

#include <pthread.h>

/* The last iteration that any of them has finished. */
typedef struct Race {
    pthread_mutex_t lock;
    atomic_int depth; /* 0: none yet */
    RootMoves root;
} Race;

void race_create(Race *race);
void race_destroy(Race *race);

/* Begins a new search. Not while anybody races. */
void race_start(Race *race);

/* Whether somebody has finished the iteration of that depth or a later one. */
static inline bool race_is_lost(const Race *race, int depth)
{
    return atomic_load_explicit(&race->depth, memory_order_relaxed) >= depth;
}

/* Hands over what an iteration of that depth has found, unless somebody else was first. */
void race_hand_over(Race *race, const RootMoves *root, int depth);

/* Takes over what the winner has found; its depth. */
int race_take_over(Race *race, RootMoves *root);

#endif
