/* Passed pawns: how far they are, who stands in their way and who helps. */
#ifndef PAWNVANE_PASSED_PAWNS_H
#define PAWNVANE_PASSED_PAWNS_H

#include "engine/evaluation/survey.h"

/* For White. After the pieces, which say what they attack. */
Pair score_passed_pawns(const Survey *v);

#endif
