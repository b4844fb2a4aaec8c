/* The moves of the root: their list and its order, and the search of all of them within one window. */
#ifndef PAWNVANE_ROOT_MOVES_H
#define PAWNVANE_ROOT_MOVES_H

#include "engine/search/searcher.h"

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

typedef struct RootMoves {
    int count;
    RootMove list[MOVES_MAX];
} RootMoves;

/* Lists the legal moves of the searcher's first frame, of those in `only` if it is not null, in the order of
 * any other node, so that there is a sensible move from the beginning. */
void root_moves_list(RootMoves *root, const Searcher *s, const MoveList *only);

/* Best first from number `first` on. Stable, so that moves with nothing new to say keep the order of earlier
 * iterations. */
void root_moves_sort(RootMoves *root, int first);

/* What to search: all root moves from number `first` on and before number `end`, the first of them with the full
 * window. */
typedef struct RootTask {
    int first, end, alpha, beta;
    int depth;
    int iteration;                                     /* noted as the depth of what is found */
    void (*step)(void *context, int index, int depth); /* before the search of a move */
    void *context;
} RootTask;

/* The best score; the moves get theirs. What was found before s->stopped counts. */
int root_moves_search(RootMoves *root, Searcher *s, const RootTask *task);

#endif
