/* Reads what a forecast is made from: games in PGN, and stores of earlier forecasts. */
#ifndef PAWNVANE_FORECAST_RUN_H
#define PAWNVANE_FORECAST_RUN_H

#include "bench/forecast/forecast_data.h"
#include "bench/pgn/pgn_survey.h"

#include <stdio.h>

typedef struct ForecastRun {
    PgnCollection collection;
    FILE *
        playable; /* gets as EPD, game by game, where the named lever could first be played; null for nobody */
} ForecastRun;

/* Adds the games of all files. False on failure, which is reported. */
bool forecast_run(ForecastRun *run, ForecastData *data);

#endif
