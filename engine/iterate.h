/* The search from the root: iterative deepening with aspiration windows, several best lines, limits. */
#ifndef PAWNVANE_ITERATE_H
#define PAWNVANE_ITERATE_H

#include "engine/player.h"
#include "engine/search.h"

typedef struct RootMove {
    Move move;
    int score; /* -SCORE_INFINITE if it was refuted by the null window */
    int last_score;
    uint64_t nodes;
    int deepest;
    int length;
    Move line[MAX_PLY];
} RootMove;

/* What the limits and the clock look like to the search. */
typedef struct Watch {
    const SearchLimits *limits;
    int64_t (*elapsed_us)(void *context); /* -1: the clock is not running yet (pondering) */
    void *context;
} Watch;

/* Searches the position in s->frames[0] and fills the result, but for the time. The searcher's tables, keys
 * and stop question are set. */
void iterate(Searcher *s, const Watch *watch, SearchReport report, void *report_context,
             SearchResult *result);

#endif
