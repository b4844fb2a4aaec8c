/* Prices, and how positions were searched, in the store of a forecast: forecast_store.h has the tables. */
#ifndef PAWNVANE_FORECAST_PRICE_STORE_H
#define PAWNVANE_FORECAST_PRICE_STORE_H

#include "bench/base/database.h"
#include "bench/forecast/forecast_evidence.h"

/* False on failure (reported). */
bool forecast_write_settings(const Database *database, const ForecastEvidence *evidence);
bool forecast_write_prices(const Database *database, const ForecastEvidence *evidence);

/* False on failure (perhaps not reported). *differ: the settings are not those of the positions so far. */
bool forecast_read_settings(const Database *database, ForecastEvidence *evidence, bool *differ);
bool forecast_read_prices(const Database *database, ForecastEvidence *evidence);

#endif
