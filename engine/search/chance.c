#include "engine/search/chance.h"

#include "engine/evaluation/clamp.h"

#include <stddef.h>

enum { HISTORY_BAND = 2048 };

/* ------------------------------------------------------------------------- where in the tables a move stands */

/* The entry of a list from 0 on; what is beyond its end counts as its last. */
#define ENTRY(list, number) ((list)[at_most(number, (int)(sizeof(list) / sizeof *(list)) - 1)])

static int number_row(int depth)
{
    static const int8_t row[] = {0, 0, 1, 2, 3, 4, 4, 5, 5, 6};
    return ENTRY(row, depth);
}

static int number_column(int number)
{
    static const int8_t column[] = {0, 0, 0, 1, 2, 3, 4, 4, 5, 5, 5, 6, 6, 6, 6, 7,
                                    7, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 9};
    return ENTRY(column, number);
}

static int history_column(int history)
{
    return clamp((history + CHANCE_HISTORIES / 2 * HISTORY_BAND) / HISTORY_BAND, 0, CHANCE_HISTORIES - 1);
}

static int gap_row(int depth)
{
    static const int8_t row[] = {0, 0, 1, 2, 2, 3, 3, 4};
    return ENTRY(row, depth);
}

/* The number of bounds that a value exceeds; all are asked, since nobody can foresee where one would stop. */
static int band_of(const int16_t *bounds, int count, int value)
{
    int band = 0;
    for (int i = 0; i < count; i++)
        band += value > bounds[i];
    return band;
}

static int gap_column(int gap)
{
    static const int16_t bounds[CHANCE_GAPS - 2] = {-300, -150, -75, -25, 25, 75, 125, 200, 300, 450, 700};
    return gap == CHANCE_NO_GAP ? CHANCE_GAPS - 1 : band_of(bounds, CHANCE_GAPS - 2, gap);
}

/* --------------------------------------------------------------------------------------------- the chance */

int chance_by_order(int depth, int number, int history, bool quiet)
{
    return chance_tables.any + chance_tables.by_number[number_row(depth)][number_column(number)] +
           chance_tables.by_history[!quiet][history_column(history)];
}

int chance_by_sort(MoveSort sort, bool gives_check)
{
    return chance_tables.by_sort[sort][gives_check];
}

int chance_by_squares(Origin origin, Goal goal)
{
    return chance_tables.by_squares[origin][goal];
}

int chance_before_move(int depth, int gap)
{
    return chance_tables.by_gap_before[gap_row(depth)][gap_column(gap)];
}

int chance_behind_move(int depth, int gap)
{
    return chance_tables.by_gap_behind[gap_row(depth)][gap_column(gap)];
}

/* ----------------------------------------------------------------------------------------------- its cells */

#define CELL(table, row, column)                                                                             \
    ((int)(offsetof(ChanceTables, table) / sizeof(int16_t)) +                                                \
     (int)(row) * (int)(sizeof *chance_tables.table / sizeof(int16_t)) + (int)(column))

void chance_cells(const ChanceMove *m, int cells[CHANCE_LOOKUPS])
{
    cells[CHANCE_BY_NUMBER] = CELL(by_number, number_row(m->depth), number_column(m->number));
    cells[CHANCE_BY_HISTORY] = CELL(by_history, m->sort >= SORT_CAPTURE, history_column(m->history));
    cells[CHANCE_BY_SQUARES] = CELL(by_squares, m->origin, m->goal);
    cells[CHANCE_BY_SORT] = CELL(by_sort, m->sort, m->gives_check);
    cells[CHANCE_BY_GAP_BEHIND] = CELL(by_gap_behind, gap_row(m->depth), gap_column(m->gap_behind));
    cells[CHANCE_BY_GAP_BEFORE] = CELL(by_gap_before, gap_row(m->depth), gap_column(m->gap_before));
}
