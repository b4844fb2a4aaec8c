/* How well the wing of the first lever is foretold: by the side alone, by the direction, by the opening, by both. Games are
 * split in two by their hash; each half is foretold from the other, so that nothing is foretold from itself.
 *
 * Each forecast is a share of past levers that came on the kingside, drawn towards a wider class by two levers' weight (a
 * choice of ours, made before anything was computed): the direction and the opening towards the side, both together, as the
 * opening within the direction, towards the direction; so an opening that has not been seen says what its class says. */
#ifndef PAWNVANE_FORECAST_LOSS_H
#define PAWNVANE_FORECAST_LOSS_H

#include "bench/forecast/forecast_units.h"

typedef enum ForecastKnowing {
    FORECAST_KNOWING_SIDE,
    FORECAST_KNOWING_DIRECTION,
    FORECAST_KNOWING_OPENING,
    FORECAST_KNOWING_BOTH,
    FORECAST_KNOWING_COUNT
} ForecastKnowing;

const char *forecast_knowing_name(int knowing);

typedef struct ForecastLoss {
    size_t n;                            /* sides foretold */
    double loss[FORECAST_KNOWING_COUNT]; /* mean log-loss in bits: 1 is a coin's */
    /* What the direction saves on top of the opening, bits a lever, with errors clustered by opening; NaN of no
     * sides. */
    double saved;
    Interval saved_interval;
} ForecastLoss;

/* False if memory runs out. */
bool forecast_loss(const ForecastData *data, const ForecastQuestion *question, ForecastLoss *loss);

#endif
