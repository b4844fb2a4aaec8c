/* Tables that are written once and shown in several ways: as text, as CSV, on a page.
 *
 *     static const PageColumn columns[] = {{"Lever", false}, {"Tempi", true}};
 *     TextTable room;
 *     TableSink sink = text_table_sink(&room);
 *     sink.begin(sink.context, "levers", "Levers", "What each needs.", columns, 2);
 *     table_cell(&sink, "f5");
 *     table_cell(&sink, "%d", 3);
 *     sink.end(sink.context);
 */
#ifndef PAWNVANE_TABLE_SINK_H
#define PAWNVANE_TABLE_SINK_H

#include "bench/page/page.h"

/* What a table is written to, cell by cell, row by row. */
typedef struct TableSink {
    void *context;
    bool by_name; /* for machines: names as in JSON; else words, for people */
    /* `id` is a short name; `note` says what is counted. */
    void (*begin)(void *context, const char *id, const char *title, const char *note,
                  const PageColumn *columns, int column_count);
    void (*cell)(void *context, const char *text);
    /* A cell with a number that has a name of its own; null: it is a cell like others. */
    void (*named)(void *context, const char *name, const char *text);
    void (*end)(void *context);
} TableSink;

__attribute__((format(printf, 2, 3))) void table_cell(const TableSink *sink, const char *format, ...);

/* Begins a table whose columns are an array. */
#define TABLE_BEGIN(sink, id, title, note, columns)                                                          \
    (sink)->begin((sink)->context, id, title, note, columns, (int)(sizeof(columns) / sizeof *(columns)))

/* Cells with numbers that may not exist: "-" then. */
void table_number(const TableSink *sink, int decimals, double value);
void table_range(const TableSink *sink, int decimals, double low, double high);

/* For people, in columns on the standard output. */
typedef struct TextTable {
    const PageColumn *columns;
    int column_count, column;
} TextTable;

TableSink text_table_sink(TextTable *table);

/* One line for each number on the standard output: table, row, column, value. The row's name are the cells of its
 * columns that are no numbers, so these come first. */
typedef struct CsvTable {
    const char *id;
    const PageColumn *columns;
    int column_count, column;
    char row[128];
} CsvTable;

TableSink csv_table_sink(CsvTable *table);

/* On a page, under a heading; table->out is set. */
TableSink page_table_sink(PageTable *table);

#endif
