/* The king: what surrounds it, and what can still attack it. */
#ifndef PAWNVANE_KING_H
#define PAWNVANE_KING_H

#include "engine/evaluation/survey.h"

/* For White. */
Pair score_kings(const Survey *v);

#endif
