/* The two-by-two question: the direction names the kingside or the queenside; the lever came on the kingside or the
 * queenside. Everything else (the centre, no lever, a side whose linked pawns point both ways) answers nothing and is left
 * out. */
#ifndef PAWNVANE_FORECAST_UNITS_H
#define PAWNVANE_FORECAST_UNITS_H

#include "bench/base/odds_ratio.h"
#include "bench/forecast/forecast_data.h"

enum { FORECAST_ANY = -1 };

/* Which rows are asked. */
typedef struct ForecastQuestion {
    int moment;   /* ForecastMoment */
    int verdict;  /* or FORECAST_ANY */
    int side;     /* or FORECAST_ANY: both, each in strata of its own */
    bool earlier; /* the lever before the moment instead of the one after it */
} ForecastQuestion;

/* A side that answers. */
typedef struct ForecastUnit {
    uint64_t opening;
    uint32_t game;
    uint8_t side;
    bool named_kingside, came_kingside;
} ForecastUnit;

typedef struct ForecastUnits {
    size_t count;
    ForecastUnit *items; /* by opening, then side, then game */
} ForecastUnits;

/* False if memory runs out. */
bool forecast_units(const ForecastData *data, const ForecastQuestion *question, ForecastUnits *units);
void forecast_units_free(ForecastUnits *units);

/* Whether linked pawns of the row's side point to both wings at its moment. */
bool forecast_points_both_ways(const ForecastData *data, size_t row);

/* Where the stratum of a unit ends: the index behind its last one. */
size_t forecast_stratum_end(const ForecastUnits *units, size_t first);

/* The table of the units from `first` to before `end`. */
Stratum forecast_table(const ForecastUnits *units, size_t first, size_t end);

/* The strata of opening and side; `strata` has room for units->count. Returns how many. */
size_t forecast_strata(const ForecastUnits *units, Stratum *strata);

#endif
