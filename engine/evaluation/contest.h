/* Contest: men that are under attack. */
#ifndef PAWNVANE_CONTEST_H
#define PAWNVANE_CONTEST_H

#include "engine/evaluation/survey.h"

/* For White. */
Pair score_contest(const Survey *v);

#endif
