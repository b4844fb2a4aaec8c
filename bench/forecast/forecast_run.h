/* Reads what a forecast is made from: games in PGN, and stores of earlier forecasts. */
#ifndef PAWNVANE_FORECAST_RUN_H
#define PAWNVANE_FORECAST_RUN_H

#include "bench/base/progress.h"
#include "bench/forecast/forecast_data.h"

#include <stdio.h>

typedef struct ForecastRun {
    const char *const *paths; /* of games; "-" is the standard input */
    int path_count;
    int workers;
    size_t share, shares; /* as in pgn_survey.h */
    Progress *progress;
    FILE *
        playable; /* gets as EPD, game by game, where the named lever could first be played; null for nobody */
    bool cut;     /* set: a file ends within a game */
} ForecastRun;

/* Adds the games of all files. False on failure, which is reported. */
bool forecast_run(ForecastRun *run, ForecastData *data);

#endif
