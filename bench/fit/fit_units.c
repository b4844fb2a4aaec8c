#include "bench/fit/fit_units.h"
#include "bench/base/progress.h"
#include "bench/fit/fit_loss.h"

#include <math.h>
#include <stdlib.h>

enum { UNIT_COUNT = sizeof(EvalUnits) / sizeof(int), FIRST_STEP = 8 };

/* The loss of fitted games, or NAN if memory runs out. */
static double loss_of(const FitWeights *weights, const FitSample *sample, double scale, double blend)
{
    int *scores = fit_scores(sample, weights);
    if (!scores)
        return NAN;
    double loss = fit_loss(sample, scores, false, scale, blend);
    free(scores);
    return loss;
}

/* Moves a unit by steps in one direction while the loss falls. */
static bool move_unit(FitWeights *weights, const FitSample *sample, double scale, double blend, int *unit,
                      int step, double *best)
{
    bool moved = false;
    for (;;) {
        *unit += step;
        double loss = loss_of(weights, sample, scale, blend);
        if (!(loss < *best)) {
            *unit -= step;
            return moved;
        }
        *best = loss;
        moved = true;
    }
}

bool fit_units_search(FitWeights *weights, const FitSample *sample, double scale, double blend, int pass,
                      bool quiet)
{
    int *units = (int *)&weights->eval.units;
    int step = FIRST_STEP >> pass ? FIRST_STEP >> pass : 1;
    double best = loss_of(weights, sample, scale, blend);
    Progress progress;
    progress_start(&progress, "units", UNIT_COUNT, quiet);
    for (int i = 0; i < UNIT_COUNT && !isnan(best); i++) {
        if (!move_unit(weights, sample, scale, blend, &units[i], step, &best))
            move_unit(weights, sample, scale, blend, &units[i], -step, &best);
        progress_show(&progress, (size_t)i + 1, NULL);
    }
    progress_clear(&progress);
    return !isnan(best);
}
