/* The counts of a forecast: how often the first lever came where. */
#ifndef PAWNVANE_FORECAST_COUNTS_H
#define PAWNVANE_FORECAST_COUNTS_H

#include "bench/forecast/forecast_data.h"
#include "bench/pgn/pgn_rating.h"

/* Where a first lever came: by ps_region, and one more place for none. */
enum { FORECAST_NO_LEVER = PS_REGION_COUNT, FORECAST_PLACE_COUNT };

const char *forecast_place_name(int place);

typedef struct ForecastPlaces {
    size_t n; /* sides */
    size_t first[FORECAST_PLACE_COUNT];
    size_t named; /* first levers on the very square */
} ForecastPlaces;

typedef struct ForecastCell {
    ForecastPlaces all;
    ForecastPlaces by_rating[RATING_BAND_COUNT + 1]; /* the last: no rating is given */
    size_t won, drawn, lost;                         /* of games with a result */
    uint64_t delay;                                  /* sum of the plies from the moment to the first lever */
} ForecastCell;

typedef struct ForecastCounts {
    size_t games, skipped; /* read; broken */
    uint64_t plies;
    bool complete; /* no share is missing */
    ForecastCell cells[FORECAST_PRINTED_MOMENTS][2][FORECAST_VERDICT_COUNT][PS_REGION_COUNT];
} ForecastCounts;

void forecast_count(const ForecastData *data, ForecastCounts *counts);

/* Where the first lever of a row came. */
int forecast_place(const ForecastRow *row);

/* 1 for each game won, 0.5 for each drawn, over games with a result. */
double forecast_points(const ForecastCell *cell);

/* Calls `use` for each cell that is not empty: by moment, side, verdict and region, the last two by alphabet. */
typedef void (*ForecastUseCell)(void *context, ForecastMoment moment, Side side, int verdict,
                                ps_region region, const ForecastCell *cell);
void forecast_each_cell(const ForecastCounts *counts, ForecastUseCell use, void *context);

#endif
