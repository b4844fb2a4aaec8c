/* The danger that a king is in, and where it stands. */
#ifndef PAWNVANE_KING_DANGER_H
#define PAWNVANE_KING_DANGER_H

#include "engine/evaluation/survey.h"

/* For White. After the pieces, which say what they attack. */
Pair score_kings(const Survey *v);

#endif
