/* Passed pawns: how far they are, who holds their way, whose king is nearer. */
#ifndef PAWNVANE_PASSED_H
#define PAWNVANE_PASSED_H

#include "engine/evaluation/survey.h"

/* For White. */
Pair score_passed_pawns(const Survey *v);

#endif
