#include "bench/page/table_sink.h"
#include "bench/base/csv.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { CELL_SIZE = 96, NAME_WIDTH = 28, NUMBER_WIDTH = 10 };

void table_cell(const TableSink *sink, const char *format, ...)
{
    char text[CELL_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    sink->cell(sink->context, text);
}

void table_number(const TableSink *sink, int decimals, double value)
{
    if (isfinite(value))
        table_cell(sink, "%.*f", decimals, value);
    else
        table_cell(sink, "-");
}

void table_range(const TableSink *sink, int decimals, double low, double high)
{
    if (isfinite(low) && isfinite(high))
        table_cell(sink, "%.*f to %.*f", decimals, low, decimals, high);
    else
        table_cell(sink, "-");
}

/* ------------------------------------------------------------------------------------------- for people */

static int width_of(const TextTable *table, int column)
{
    int heading = (int)strlen(table->columns[column].heading);
    int least = column == 0 ? NAME_WIDTH : table->columns[column].numeric ? NUMBER_WIDTH : NUMBER_WIDTH + 2;
    return heading > least ? heading : least;
}

static void text_cell(void *context, const char *text)
{
    TextTable *table = context;
    int width = width_of(table, table->column);
    if (table->column > 0)
        fputs("  ", stdout);
    /* Nothing stands behind the last column. */
    bool last = table->column + 1 == table->column_count;
    printf("%*s", table->columns[table->column].numeric ? width : last ? 0 : -width, text);
    if (last)
        putchar('\n');
    table->column = last ? 0 : table->column + 1;
}

static void text_begin(void *context, const char *id, const char *title, const char *note,
                       const PageColumn *columns, int column_count)
{
    TextTable *table = context;
    (void)id;
    *table = (TextTable){columns, column_count, 0};
    printf("\n%s\n%s\n", title, note);
    for (int i = 0; i < column_count; i++)
        text_cell(table, columns[i].heading);
}

static void no_end(void *context)
{
    (void)context;
}

TableSink text_table_sink(TextTable *table)
{
    return (TableSink){table, false, text_begin, text_cell, NULL, no_end};
}

/* ----------------------------------------------------------------------------------------------- as CSV */

static void csv_begin(void *context, const char *id, const char *title, const char *note,
                      const PageColumn *columns, int column_count)
{
    CsvTable *table = context;
    (void)title;
    (void)note;
    *table = (CsvTable){.id = id, .columns = columns, .column_count = column_count};
}

static void csv_cell(void *context, const char *text)
{
    CsvTable *table = context;
    const PageColumn *column = &table->columns[table->column];
    if (table->column == 0)
        table->row[0] = '\0';
    if (!column->numeric) {
        size_t length = strlen(table->row);
        snprintf(table->row + length, sizeof table->row - length, "%s%s", length ? "/" : "", text);
    } else {
        printf("%s,", table->id);
        csv_text(stdout, table->row);
        putchar(',');
        csv_text(stdout, column->heading);
        putchar(',');
        csv_text(stdout, text);
        putchar('\n');
    }
    table->column = (table->column + 1) % table->column_count;
}

TableSink csv_table_sink(CsvTable *table)
{
    return (TableSink){table, true, csv_begin, csv_cell, NULL, no_end};
}

/* -------------------------------------------------------------------------------------------- on a page */

static void page_begin_table(void *context, const char *id, const char *title, const char *note,
                             const PageColumn *columns, int column_count)
{
    PageTable *table = context;
    FILE *out = table->out;
    page_heading(out, 2, id, title);
    page_table_begin(table, out, note, columns, column_count);
}

static void page_add_cell(void *context, const char *text)
{
    page_cell(context, "%s", text);
}

static void page_end_table(void *context)
{
    page_table_end(context);
}

TableSink page_table_sink(PageTable *table)
{
    return (TableSink){table, false, page_begin_table, page_add_cell, NULL, page_end_table};
}
