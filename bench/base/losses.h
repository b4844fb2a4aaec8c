/* How a fit tells what it has done to a loss: on the part fitted to, and on the part held out. */
#ifndef PAWNVANE_LOSSES_H
#define PAWNVANE_LOSSES_H

#include "bench/base/means.h"

typedef struct LossChange {
    double before, after; /* nats */
} LossChange;

/* Below a line of heads, "before", "after" and "change", each 10 wide behind 10 blanks. `change` is the mean on the part held
 * out, by games; where it has no error, `why` says so. At the end stands whether `what` is foretold better. */
void losses_print(LossChange fitted, LossChange held_out, const ClusteredMean *change, const char *why,
                  const char *what);

#endif
