/* The tables of a survey, once for every way to show them. */
#ifndef PAWNVANE_CENSUS_TABLES_H
#define PAWNVANE_CENSUS_TABLES_H

#include "bench/census/census_totals.h"
#include "bench/page/table_sink.h"

/* The finding that a reader must not miss. */
extern const char census_warning[];

/* Writes all tables. In full the openings stand there by code, too, not only by letter, and all first moves and years.
 * False if memory runs out. */
bool census_write_tables(const CensusTotals *totals, bool full, const TableSink *sink);

#endif
