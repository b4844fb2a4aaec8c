/* What a search learns from its nodes: which moves cut off and which did not, and how far the static score is
 * off. */
#ifndef PAWNVANE_LEARNING_H
#define PAWNVANE_LEARNING_H

#include "engine/search/pruning.h"

/* What has been tried at a node, the moves that were pruned left out. */
typedef struct Tried {
    int quiet_count, capture_count;
    Move quiets[TRIED_QUIETS], captures[TRIED_CAPTURES];
} Tried;

static inline void note_tried(Tried *tried, Move move, bool quiet)
{
    if (quiet && tried->quiet_count < TRIED_QUIETS)
        tried->quiets[tried->quiet_count++] = move;
    else if (!quiet && tried->capture_count < TRIED_CAPTURES)
        tried->captures[tried->capture_count++] = move;
}

/* The move that cut off gains, the moves of its kind tried before it lose. */
void learn_cutoff(Searcher *s, Frame *f, const OrderingHints *hints, Move best, const Tried *tried,
                  int depth);

/* A quiet move that has been played is told at once what the static score behind it says of its chance: what it
 * gave up or gained in the same way elsewhere. */
void learn_look(const Searcher *s, const Position *p, const OrderingHints *hints, const MoveContext *m,
                int depth);

/* Where the static score was wrong, such pawns and pieces are corrected from now on: a search to that depth
 * found `score`, a bound of that kind, and a best move (or NO_MOVE). */
void learn_correction(Searcher *s, const Frame *f, int score, Bound bound, Move best, int depth);

#endif
