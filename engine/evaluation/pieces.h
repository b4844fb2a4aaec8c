/* Placement, activity and company: where the pieces stand, how many squares they reach, and beside whom. */
#ifndef PAWNVANE_PIECES_H
#define PAWNVANE_PIECES_H

#include "engine/evaluation/survey.h"

/* For White. */
Pair score_pieces(const Survey *v);

#endif
