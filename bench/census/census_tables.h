/* The tables of a survey, once for every way to show them. */
#ifndef PAWNVANE_CENSUS_TABLES_H
#define PAWNVANE_CENSUS_TABLES_H

#include "bench/census/census_totals.h"
#include "bench/page/page.h"

/* What a table is written to, cell by cell, row by row. */
typedef struct TableSink {
    void *context;
    /* `id` is a short name; `note` says what is counted. */
    void (*begin)(void *context, const char *id, const char *title, const char *note,
                  const PageColumn *columns, int column_count);
    void (*cell)(void *context, const char *text);
    void (*end)(void *context);
} TableSink;

/* The finding that a reader must not miss. */
extern const char census_warning[];

/* Writes all tables. With `codes` the openings stand there by code, too, not only by letter. */
void census_write_tables(const CensusTotals *totals, bool codes, const TableSink *sink);

#endif
