#include "bench/chance/chance_fit.h"
#include "bench/base/complaint.h"
#include "bench/base/symmetric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TERMS = CHANCE_LOOKUPS - 1, STEPS_MOST = 50, HALVINGS_MOST = 30, UNIT = 100, WORTH_MOST = 3000 };

/* One by the variance of a cell, in units of log-odds. */
static const double prior_pull = 2;

/* What the loss of all moves together would still fall by, in nats: far less than rounding to hundredths brings. */
static const double near_enough = 1e-6;

/* Which tables a sum has, and from which of them on they are fitted. */
static const struct {
    ChanceLookup terms[TERMS];
    int first_free;
} sums[CHANCE_SUMS] = {
    [SUM_BEHIND] = {{CHANCE_BY_NUMBER, CHANCE_BY_HISTORY, CHANCE_BY_SQUARES, CHANCE_BY_SORT,
                     CHANCE_BY_GAP_BEHIND},
                    0},
    [SUM_BEFORE] = {{CHANCE_BY_NUMBER, CHANCE_BY_HISTORY, CHANCE_BY_SQUARES, CHANCE_BY_SORT,
                     CHANCE_BY_GAP_BEFORE},
                    TERMS - 1},
};

typedef struct Row {
    uint32_t game;
    bool raised, held_out;
    uint16_t cells[CHANCE_LOOKUPS];
} Row;

typedef struct Regression {
    size_t count, games; /* rows; more than any game's number */
    const Row *rows;
    double worths[CHANCE_CELLS]; /* of the cells, in units of log-odds; that of any move is the first */
    /* The sum that is being fitted, and its cells: free ones are columns 0 .. columns - 1, the others -1. */
    ChanceSum sum;
    int columns, column_of[CHANCE_CELLS], cell_of[CHANCE_CELLS];
    double matrix[CHANCE_CELLS * CHANCE_CELLS];
} Regression;

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out for the fit");
    return false;
}

/* --------------------------------------------------------------------------------------------- the rows */

static Row *rows_of(const ChanceSample *sample)
{
    Row *rows = malloc((sample->count + 1) * sizeof *rows);
    for (size_t i = 0; rows && i < sample->count; i++) {
        const SampledMove *s = &sample->moves[i];
        int cells[CHANCE_LOOKUPS];
        chance_cells(&s->move, cells);
        rows[i] = (Row){.game = s->game, .raised = s->raised, .held_out = chance_held_out(s->game)};
        for (int k = 0; k < CHANCE_LOOKUPS; k++)
            rows[i].cells[k] = (uint16_t)cells[k];
    }
    return rows;
}

static double log_odds(const Row *row, ChanceSum sum, const double worths[CHANCE_CELLS])
{
    double x = worths[0];
    for (int t = 0; t < TERMS; t++)
        x += worths[row->cells[sums[sum].terms[t]]];
    return x;
}

static double loss_of(const Row *row, ChanceSum sum, const double worths[CHANCE_CELLS])
{
    double x = log_odds(row, sum, worths);
    return log1p(exp(-fabs(x))) + (x > 0 ? x : 0) - (row->raised ? x : 0);
}

/* ---------------------------------------------------------------------------------------- Newton's method */

static double whole_loss(const Regression *r)
{
    double loss = 0;
    for (size_t i = 0; i < r->count; i++)
        if (!r->rows[i].held_out)
            loss += loss_of(&r->rows[i], r->sum, r->worths);
    for (int c = 0; c < r->columns; c++)
        loss += prior_pull * r->worths[r->cell_of[c]] * r->worths[r->cell_of[c]] / 2;
    return loss;
}

static void add_row(Regression *r, const Row *row, double *gradient)
{
    double p = 1 / (1 + exp(-log_odds(row, r->sum, r->worths))), bend = p * (1 - p);
    int first = sums[r->sum].first_free;
    for (int t = first; t < TERMS; t++) {
        int column = r->column_of[row->cells[sums[r->sum].terms[t]]];
        gradient[column] += p - row->raised;
        for (int u = first; u < TERMS; u++) {
            int other = r->column_of[row->cells[sums[r->sum].terms[u]]];
            if (other <= column)
                r->matrix[column * r->columns + other] += bend;
        }
    }
}

/* The gradient of the loss, and the lower triangle of its second derivative. */
static void differentiate(Regression *r, double *gradient)
{
    int n = r->columns;
    memset(r->matrix, 0, sizeof r->matrix);
    for (int c = 0; c < n; c++) {
        gradient[c] = prior_pull * r->worths[r->cell_of[c]];
        r->matrix[c * n + c] = prior_pull;
    }
    for (size_t i = 0; i < r->count; i++)
        if (!r->rows[i].held_out)
            add_row(r, &r->rows[i], gradient);
}

/* A step, shortened until the loss falls. False if it does not: rounding is all that is left. */
static bool step_down(Regression *r, const double *step, double *loss)
{
    double from[CHANCE_CELLS], share = 1;
    memcpy(from, r->worths, sizeof from);
    for (int i = 0; i < HALVINGS_MOST; i++, share /= 2) {
        for (int c = 0; c < r->columns; c++)
            r->worths[r->cell_of[c]] = from[r->cell_of[c]] - share * step[c];
        double now = whole_loss(r);
        if (now < *loss) {
            *loss = now;
            return true;
        }
    }
    memcpy(r->worths, from, sizeof from);
    return false;
}

/* With the prior there is one lowest point, and every step leads nearer to it. */
static void descend(Regression *r)
{
    double gradient[CHANCE_CELLS], step[CHANCE_CELLS], loss = whole_loss(r);
    for (int i = 0; i < STEPS_MOST; i++) {
        double fall = 0;
        differentiate(r, gradient);
        if (!symmetric_factorise(r->matrix, r->columns))
            return;
        memcpy(step, gradient, sizeof step);
        symmetric_solve(r->matrix, r->columns, step);
        for (int c = 0; c < r->columns; c++)
            fall += gradient[c] * step[c] / 2;
        if (fall < near_enough || !step_down(r, step, &loss))
            return;
    }
}

/* Frees the cells of the tables that are to be fitted. */
static void choose_columns(Regression *r, ChanceSum sum)
{
    enum {
        BEFORE = offsetof(ChanceTables, by_gap_before) / sizeof(int16_t),
        BEHIND_IT = BEFORE + CHANCE_GAP_DEPTHS * CHANCE_GAPS
    };
    r->sum = sum;
    r->columns = 0;
    r->column_of[0] = -1;
    for (int cell = 1; cell < CHANCE_CELLS; cell++) {
        bool before = cell >= BEFORE && cell < BEHIND_IT, is_free = before == (sum == SUM_BEFORE);
        r->column_of[cell] = is_free ? r->columns : -1;
        if (is_free)
            r->cell_of[r->columns++] = cell;
    }
}

/* --------------------------------------------------------------------------------------------- the report */

static bool count_parts(const ChanceSample *sample, ChanceReport *report)
{
    bool *seen = calloc((size_t)chance_last_game(sample) + 1, sizeof *seen);
    if (!seen)
        return no_memory();
    for (size_t i = 0; i < sample->count; i++) {
        const SampledMove *s = &sample->moves[i];
        ChancePart *part = chance_held_out(s->game) ? &report->held_out : &report->fitted;
        part->games += !seen[s->game];
        part->moves++;
        part->raised += s->raised;
        seen[s->game] = true;
    }
    free(seen);
    const ChancePart *fitted = &report->fitted;
    if (!fitted->games || !report->held_out.games)
        complain(NULL, 0, "the sample has moves of %zu games to fit and of %zu to hold out; expected both",
                 fitted->games, report->held_out.games);
    else if (fitted->raised == 0 || fitted->raised == fitted->moves)
        complain(NULL, 0,
                 "of %zu moves to fit %zu raised alpha; expected some that did and some that did not",
                 fitted->moves, fitted->raised);
    else
        return true;
    return false;
}

static int count_unseen(const Regression *r)
{
    bool seen[CHANCE_CELLS] = {true};
    int unseen = 0;
    for (size_t i = 0; i < r->count; i++)
        for (int k = 0; k < CHANCE_LOOKUPS && !r->rows[i].held_out; k++)
            seen[r->rows[i].cells[k]] = true;
    for (int i = 0; i < CHANCE_CELLS; i++)
        unseen += !seen[i];
    return unseen;
}

static void to_worths(const ChanceTables *tables, double worths[CHANCE_CELLS])
{
    const int16_t *cells = (const int16_t *)tables;
    for (int i = 0; i < CHANCE_CELLS; i++)
        worths[i] = (double)cells[i] / UNIT;
}

static void from_worths(const double worths[CHANCE_CELLS], ChanceTables *tables)
{
    int16_t *cells = (int16_t *)tables;
    for (int i = 0; i < CHANCE_CELLS; i++)
        cells[i] = (int16_t)lround(fmin(fmax(worths[i] * UNIT, -WORTH_MOST), WORTH_MOST));
}

static double mean_loss(const Regression *r, ChanceSum sum, bool held_out, const double worths[CHANCE_CELLS])
{
    double loss = 0;
    size_t count = 0;
    for (size_t i = 0; i < r->count; i++)
        if (r->rows[i].held_out == held_out) {
            loss += loss_of(&r->rows[i], sum, worths);
            count++;
        }
    return loss / (double)count;
}

static bool measure_change(const Regression *r, ChanceSum sum, const double before[CHANCE_CELLS],
                           const double after[CHANCE_CELLS], ClusteredMean *change)
{
    double *totals = calloc(r->games, sizeof *totals);
    size_t *sizes = calloc(r->games, sizeof *sizes);
    bool good = totals && sizes;
    for (size_t i = 0; good && i < r->count; i++) {
        const Row *row = &r->rows[i];
        if (!row->held_out)
            continue;
        totals[row->game] += loss_of(row, sum, after) - loss_of(row, sum, before);
        sizes[row->game]++;
    }
    if (good)
        *change = clustered_mean(totals, sizes, r->games, 0.95);
    free(totals);
    free(sizes);
    return good || no_memory();
}

static bool measure(const Regression *r, const ChanceTables *old, const ChanceTables *new,
                    ChanceReport *report)
{
    double before[CHANCE_CELLS], after[CHANCE_CELLS];
    bool good = true;
    to_worths(old, before);
    to_worths(new, after);
    for (int i = 0; i < CHANCE_CELLS; i++)
        report->changed += before[i] != after[i];
    report->unseen = count_unseen(r);
    for (ChanceSum sum = 0; good && sum < CHANCE_SUMS; sum++) {
        report->fitted.before[sum] = mean_loss(r, sum, false, before);
        report->fitted.after[sum] = mean_loss(r, sum, false, after);
        report->held_out.before[sum] = mean_loss(r, sum, true, before);
        report->held_out.after[sum] = mean_loss(r, sum, true, after);
        good = measure_change(r, sum, before, after, &report->change[sum]);
    }
    return good;
}

bool chance_fit(ChanceTables *tables, const ChanceSample *sample, ChanceReport *report)
{
    ChanceTables fitted;
    *report = (ChanceReport){0};
    if (!count_parts(sample, report))
        return false;
    Row *rows = rows_of(sample);
    Regression *r = calloc(1, sizeof *r);
    bool good = (rows && r) || no_memory();
    if (good) {
        const ChancePart *part = &report->fitted;
        r->rows = rows;
        r->count = sample->count;
        r->games = (size_t)chance_last_game(sample) + 1;
        r->worths[0] = log((double)part->raised / (double)(part->moves - part->raised));
        for (ChanceSum sum = 0; sum < CHANCE_SUMS; sum++) {
            choose_columns(r, sum);
            descend(r);
        }
        from_worths(r->worths, &fitted);
        good = measure(r, tables, &fitted, report);
    }
    if (good)
        *tables = fitted;
    free(rows);
    free(r);
    return good;
}
