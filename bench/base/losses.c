#include "bench/base/losses.h"

#include <math.h>
#include <stdio.h>

void losses_print(LossChange fitted, LossChange held_out, const ClusteredMean *change, const char *why,
                  const char *what)
{
    printf("fitted    %9.6f %9.6f %+10.6f\n", fitted.before, fitted.after, fitted.after - fitted.before);
    printf("held out  %9.6f %9.6f %+10.6f", held_out.before, held_out.after, change->mean);
    if (isnan(change->error)) {
        printf("  (%s: no error can be given)\n", why);
        return;
    }
    printf("  (95 %%: %+.6f to %+.6f; standard error %.6f, by games)\n", change->interval.low,
           change->interval.high, change->error);
    if (change->interval.low <= 0 && change->interval.high >= 0)
        printf("One cannot tell whether the %s are foretold better.\n", what);
    else
        printf("The %s are foretold %s.\n", what, change->interval.high < 0 ? "better" : "worse");
}
