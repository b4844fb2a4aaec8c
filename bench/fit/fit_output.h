/* Weights as C source: what a fit writes is what the programs are built from. */
#ifndef PAWNVANE_FIT_OUTPUT_H
#define PAWNVANE_FIT_OUTPUT_H

#include "bench/fit/fit.h"

/* What the comment above the weights says. */
typedef struct FitOrigin {
    const char *command;
    const char *sample; /* the command that made it; empty if not known */
    FitReport report;
} FitOrigin;

/* engine/evaluation/weights.c and structure/default_weights.c, which tell clang-format to let them be. On
 * failure (reported) what was at `path` is unchanged. */
bool fit_write_eval(const char *path, const EvalWeights *weights, const FitOrigin *origin);
bool fit_write_lever(const char *path, const ps_weights *weights, const FitOrigin *origin);

#endif
