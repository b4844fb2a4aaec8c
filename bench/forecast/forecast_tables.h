/* The tables of a forecast, once for every way to show them. */
#ifndef PAWNVANE_FORECAST_TABLES_H
#define PAWNVANE_FORECAST_TABLES_H

#include "bench/forecast/forecast_findings.h"
#include "bench/page/table_sink.h"

/* What a reader must not miss. */
extern const char forecast_warning[];

/* Writes all tables. With `ratings` the counts stand there by rating, too. */
void forecast_write_tables(const ForecastFindings *findings, bool ratings, const TableSink *sink);

/* On the standard output. */
void forecast_print_text(const ForecastFindings *findings);
void forecast_print_csv(const ForecastFindings *findings);

#endif
