/* How much less deep late moves are searched: the part that depends on depth and number alone. */
#ifndef PAWNVANE_REDUCTIONS_H
#define PAWNVANE_REDUCTIONS_H

#include "engine/evaluation/clamp.h"
#include "engine/search/parameters.h"

#include <stdint.h>

enum { REDUCTION_TABLE = 64 };

typedef struct Reductions {
    int16_t by[REDUCTION_TABLE][REDUCTION_TABLE]; /* depth and number of the move; hundredths of a ply */
} Reductions;

void reductions_fill(Reductions *reductions, const Parameters *parameters);

/* In hundredths of a ply, for depths and numbers from 1 on. */
static inline int reduction_of(const Reductions *reductions, int depth, int number)
{
    return reductions->by[at_most(depth, REDUCTION_TABLE - 1)][at_most(number, REDUCTION_TABLE - 1)];
}

#endif
