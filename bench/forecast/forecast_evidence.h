/* All that a forecast is made from: what games show, and what searches say of positions. */
#ifndef PAWNVANE_FORECAST_EVIDENCE_H
#define PAWNVANE_FORECAST_EVIDENCE_H

#include "bench/forecast/forecast_data.h"
#include "bench/forecast/forecast_price.h"

/* Whom the rule was asked of. The last two share an evaluation, and are no witnesses beside each other. */
typedef enum ForecastWitness {
    FORECAST_GAMES,         /* first levers in games */
    FORECAST_LINES,         /* in the best line of a search of a position */
    FORECAST_CONTINUATIONS, /* in what the engine plays against itself from a position on */
    FORECAST_WITNESS_COUNT
} ForecastWitness;

/* Of positions the data are kept as of games: a position is the moment and stands behind ply 1; its number is its line in
 * the file; a part counts positions asked as games, and those left out as skipped. */
typedef struct ForecastEvidence {
    ForecastData of[FORECAST_WITNESS_COUNT];
    bool has_settings; /* there are positions, and these are the settings of all of them */
    ForecastSettings settings;
    size_t price_count, price_capacity;
    ForecastPrice *prices; /* their files are those of the lines */
} ForecastEvidence;

/* "game", "line", "continuation". */
const char *forecast_witness_name(ForecastWitness witness);

/* False if memory runs out. */
bool forecast_evidence_add_price(ForecastEvidence *evidence, const char *file, const ForecastPrice *price);

/* Notes with which settings more positions were searched. False if others were searched with other ones. */
bool forecast_evidence_agree(ForecastEvidence *evidence, const ForecastSettings *settings);

/* Puts everything in the order of files and numbers. False if memory runs out. */
bool forecast_evidence_sort(ForecastEvidence *evidence);

void forecast_evidence_free(ForecastEvidence *evidence);

#endif
