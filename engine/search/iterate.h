/* The search from the root: iterative deepening with aspiration windows, several best lines, limits. */
#ifndef PAWNVANE_ITERATE_H
#define PAWNVANE_ITERATE_H

#include "engine/search/race.h"
#include "engine/search/searcher.h"
#include "engine/search/thought.h"

/* What the limits and the clock look like to the search. */
typedef struct Watch {
    const SearchLimits *limits;
    int64_t start_us;                   /* clock.h */
    int64_t (*spent_us)(void *context); /* thinking, -1: it does not count yet (pondering) */
    bool (*should_stop)(void *context);
    void *context;
    Race *race; /* null for a worker alone */
} Watch;

/* Searches the position in s->frames[0] and fills the result, but for the time. The searcher's tables, keys
 * and node limit are set. The listener is null for a helper, whose result says little; without limits of time
 * it needs no clock. */
void iterate(Searcher *s, const Watch *watch, const SearchListener *listener, SearchResult *result);

#endif
