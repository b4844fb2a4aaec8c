/* The tables of a survey, once for every way to show them. */
#ifndef PAWNVANE_CENSUS_TABLES_H
#define PAWNVANE_CENSUS_TABLES_H

#include "bench/census/census_totals.h"
#include "bench/page/table_sink.h"

/* The finding that a reader must not miss. */
extern const char census_warning[];

/* Writes all tables. With `codes` the openings stand there by code, too, not only by letter. */
void census_write_tables(const CensusTotals *totals, bool codes, const TableSink *sink);

#endif
