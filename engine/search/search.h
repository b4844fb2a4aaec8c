/* Principal-variation alpha-beta search at full width, below the root. */
#ifndef PAWNVANE_SEARCH_H
#define PAWNVANE_SEARCH_H

#include "engine/search/searcher.h"

/* The value of the frame's position at that depth within alpha and beta, from the side to move's view; the
 * frame gets the principal variation. Meaningless once s->stopped. */
int search_node(Searcher *s, Frame *f, int alpha, int beta, int depth, bool expected_cut);

#endif
