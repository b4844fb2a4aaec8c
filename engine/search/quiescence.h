/* Quiescence: the search behind the last ply, which looks at captures and promotions that lose nothing until
 * the position is quiet, and in check at every move. */
#ifndef PAWNVANE_QUIESCENCE_H
#define PAWNVANE_QUIESCENCE_H

#include "engine/search/searcher.h"

/* The value of the frame's position within alpha and beta, from the side to move's view; the frame gets the
 * principal variation. Meaningless once s->stopped. */
int quiesce(Searcher *s, Frame *f, int alpha, int beta);

#endif
