/* The tables of a forecast, once for every way to show them. */
#ifndef PAWNVANE_FORECAST_TABLES_H
#define PAWNVANE_FORECAST_TABLES_H

#include "bench/forecast/forecast_findings.h"
#include "bench/page/table_sink.h"

/* What a reader must not miss. */
extern const char forecast_warning[], forecast_search_warning[], forecast_price_warning[];

/* "not_rammed/any/both", or for people "not rammed; any; both". */
enum { FORECAST_ODDS_NAME_SIZE = 64 };
void forecast_odds_name(const ForecastOdds *odds, bool by_name, char name[FORECAST_ODDS_NAME_SIZE]);

/* Writes all tables: those of games, if there are any, and those of searches, likewise. With `ratings` the counts of games
 * stand there by rating, too. */
void forecast_write_tables(const ForecastFindings *findings, bool ratings, const TableSink *sink);

/* Those of searches but the counts. */
void forecast_write_search_tables(const ForecastFindings *findings, const TableSink *sink);

/* On the standard output. */
void forecast_print_text(const ForecastFindings *findings);
void forecast_print_csv(const ForecastFindings *findings);

#endif
