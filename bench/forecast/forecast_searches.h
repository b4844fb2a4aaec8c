/* Asks searches, without the lever term, what games are asked: positions in EPD, on several threads. What comes out
 * depends on the positions and the settings alone. */
#ifndef PAWNVANE_FORECAST_SEARCHES_H
#define PAWNVANE_FORECAST_SEARCHES_H

#include "bench/base/progress.h"
#include "bench/forecast/forecast_evidence.h"

typedef struct ForecastSearches {
    const char *const *paths; /* of EPD */
    int path_count;
    int workers;
    size_t share, shares; /* positions number `share`, `share` + `shares`, ... of all, 1 for the first */
    ForecastSettings settings;
    Progress *progress;
} ForecastSearches;

/* Adds what is found. Left out are positions at which the rule cannot be asked and those that were there before. False on
 * failure (reported): a bad line is one. */
bool forecast_search(const ForecastSearches *searches, ForecastEvidence *evidence);

#endif
