/* Threats: men that are attacked by lesser ones or not defended enough, and pawn pushes that would attack. */
#ifndef PAWNVANE_THREATS_H
#define PAWNVANE_THREATS_H

#include "engine/evaluation/survey.h"

/* For White. After the pieces, which say what they attack. */
Pair score_threats(const Survey *v);

#endif
