/* Self-contained HTML pages: readable without network and without scripts, on screen (light, dark, phone) and
 * on paper (A4, Letter).
 *
 *     page_begin(out, "Lesson", "Three positions", NULL);
 *     page_heading(out, 2, "first", "Position 1");
 *     page_paragraph(out, PAGE_PLAIN, "White to move.");
 *     page_end(out, "For study.");
 *
 * All text is escaped here. Nothing is checked while writing: ask the stream at the end. */
#ifndef PAWNVANE_PAGE_H
#define PAWNVANE_PAGE_H

#include <stdbool.h>
#include <stdio.h>

/* Begins a page. The title is also its first heading; `subtitle` stands below it, null for none; `foot` is
 * printed at the foot of every sheet of paper, null for none, and has at most a line. */
void page_begin(FILE *out, const char *title, const char *subtitle, const char *foot);

/* Ends the page with a closing line. */
void page_end(FILE *out, const char *closing);

/* A heading of level 2 to 4. `id` is a name to point links at, null for none. */
void page_heading(FILE *out, int level, const char *id, const char *text);

/* What a paragraph looks like; PAGE_LEAD is the finding that a reader must not miss. */
typedef enum PageTone { PAGE_PLAIN, PAGE_LEAD, PAGE_NOTE } PageTone;

__attribute__((format(printf, 3, 4))) void page_paragraph(FILE *out, PageTone tone, const char *format, ...);

/* A text to be copied, taken whole by one click, behind its name. */
void page_code(FILE *out, const char *name, const char *text);

/* A line that leads to another page; not on paper. */
void page_way(FILE *out, const char *target, const char *words);

/* A link that saves a file which the page holds itself; not on paper. */
void page_download(FILE *out, const char *words, const char *file, const char *type, const char *bytes,
                   size_t size);

/* A part that is closed at first, under words that open it, as a link to its `id` does. */
__attribute__((format(printf, 3, 4))) void page_fold_begin(FILE *out, const char *id, const char *words, ...);
void page_fold_end(FILE *out);

/* Items of a list. */
void page_list_begin(FILE *out);
__attribute__((format(printf, 2, 3))) void page_list_item(FILE *out, const char *format, ...);
void page_list_end(FILE *out);

/* A list with numbers, of items that lead to other pages, each with a text below. */
void page_numbered_list_begin(FILE *out);
__attribute__((format(printf, 4, 5))) void page_list_way(FILE *out, const char *target, const char *words,
                                                         const char *format, ...);
void page_numbered_list_end(FILE *out);

/* Boxes that lay out what is inside them. */
typedef enum PageBox {
    PAGE_SHEET,    /* a part that may begin on a new sheet of paper */
    PAGE_FRESH,    /* a part that always begins on a new sheet of paper */
    PAGE_SPREAD,   /* a figure and text side by side where there is room */
    PAGE_COLUMN,   /* what stands beside the figure */
    PAGE_ASIDE,    /* what holds only if it were so */
    PAGE_TOGETHER, /* not to be torn apart by the end of a sheet */
    /* What fills a sheet of paper: 1, 2, 4 or 6 boxes of PAGE_TOGETHER. */
    PAGE_LEAF_1,
    PAGE_LEAF_2,
    PAGE_LEAF_4,
    PAGE_LEAF_6
} PageBox;

void page_box_begin(FILE *out, PageBox box);
void page_box_end(FILE *out, PageBox box);

/* Ruled lines for a pupil to write on. */
void page_lines(FILE *out, int count);

/* A column of a table. The cells of the first column name their rows. */
typedef struct PageColumn {
    const char *heading;
    bool numeric; /* set to the right */
} PageColumn;

typedef struct PageTable {
    FILE *out;
    const PageColumn *columns;
    int column_count;
    int cell;         /* of the row being written */
    const char *link; /* where the next cell, and only that, leads to; null: nowhere */
} PageTable;

/* A table, cell by cell, row by row: after the last column a new row begins by itself.
 *
 * On a phone the rows of a table with more than four columns become cards.
 *
 *     static const PageColumn columns[] = {{"Lever", false}, {"Tempi", true}};
 *     PageTable table;
 *     page_table_begin(&table, out, "Levers", columns, 2);
 *     page_cell(&table, "f5");
 *     page_cell(&table, "%d", 3);
 *     page_table_end(&table);
 */
void page_table_begin(PageTable *table, FILE *out, const char *caption, const PageColumn *columns,
                      int column_count);
__attribute__((format(printf, 2, 3))) void page_cell(PageTable *table, const char *format, ...);
void page_table_end(PageTable *table);

#endif
