/* What many prices come to: by verdict, grade and state of the lever; and whether games bear the judge out. */
#ifndef PAWNVANE_FORECAST_PRICES_H
#define PAWNVANE_FORECAST_PRICES_H

#include "bench/base/means.h"
#include "bench/forecast/forecast_evidence.h"

/* The better by these numbers, the better the lever. Positions are taken to be independent of each other. */
typedef struct ForecastPriceMean {
    size_t n;
    ClusteredMean centipawns, chance; /* a chance is -1 to 1 */
} ForecastPriceMean;

typedef struct ForecastPriceRow {
    const char *id, *name; /* "firm-ready", "firm, ready" */
    ForecastPriceMean to_lever,
        to_other; /* against the best lever elsewhere; the best move that is no lever */
} ForecastPriceRow;

/* Points that the lever brought less those that its rival brought, against what the judge expected of them (winning
 * chances): a game won rather than lost is 1. */
typedef struct ForecastCalibration {
    const char *id, *name;
    size_t n;
    ClusteredMean expected, observed, missed; /* missed: observed less expected */
    /* Of the regression of what was observed on what was expected, by ordinary least squares; the error is that of H. White
     * ("A Heteroskedasticity-Consistent Covariance Matrix Estimator", Econometrica 48, 1980) times n / (n - 2) in the
     * variance. NaN if there are too few, or all the same. */
    double slope, slope_error;
    Interval slope_interval;
} ForecastCalibration;

enum { FORECAST_PRICE_ROWS = 14, FORECAST_CALIBRATION_ROWS = 3 };

typedef struct ForecastPriceFindings {
    size_t count; /* positions with a price */
    ForecastPriceRow rows[FORECAST_PRICE_ROWS];
    ForecastCalibration calibration[FORECAST_CALIBRATION_ROWS]; /* all, ready, unsupported */
} ForecastPriceFindings;

/* False if memory runs out. */
bool forecast_sum_up_prices(const ForecastEvidence *evidence, double confidence,
                            ForecastPriceFindings *findings);

/* By its id, which must be there. */
const ForecastPriceRow *forecast_price_row(const ForecastPriceFindings *findings, const char *id);

#endif
