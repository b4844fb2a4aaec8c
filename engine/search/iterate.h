/* The search from the root: iterative deepening with aspiration windows, several best lines, limits. */
#ifndef PAWNVANE_ITERATE_H
#define PAWNVANE_ITERATE_H

#include "engine/search/search.h"
#include "engine/search/thought.h"

#include <pthread.h>

typedef struct RootMove {
    Move move;
    int score; /* -SCORE_INFINITE if it was refuted by the null window */
    int last_score;
    int depth; /* of the search that the score and the line are from, 0 without one */
    Bound bound;
    uint64_t nodes;
    int deepest;
    int length;
    Move line[MAX_PLY];
} RootMove;

/* The last iteration that any of several workers has finished. Whoever is first hands its moves over to the
 * others, who leave theirs and go on with the next. */
typedef struct Race {
    pthread_mutex_t lock;
    atomic_int depth; /* 0: none yet */
    RootMove moves[MOVES_MAX];
} Race;

/* What the limits and the clock look like to the search. */
typedef struct Watch {
    const SearchLimits *limits;
    int64_t start_us;                   /* clock.h */
    int64_t (*spent_us)(void *context); /* of the time to think, -1: it does not count yet (pondering) */
    bool (*should_stop)(void *context);
    void *context;
    Race *race; /* null for a worker alone */
} Watch;

/* Searches the position in s->frames[0] and fills the result, but for the time. The searcher's tables, keys
 * and node limit are set. The listener is null for a helper, whose result says little; without limits of time
 * it needs no clock. */
void iterate(Searcher *s, const Watch *watch, const SearchListener *listener, SearchResult *result);

#endif
