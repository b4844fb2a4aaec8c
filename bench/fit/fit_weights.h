/* What is fitted: every weight of the evaluation, and those of the lever term. */
#ifndef PAWNVANE_FIT_WEIGHTS_H
#define PAWNVANE_FIT_WEIGHTS_H

#include "engine/evaluation/weights.h"
#include "structure/structure.h"

typedef struct FitWeights {
    EvalWeights eval;
    ps_weights lever;
} FitWeights;

#endif
