#include "bench/fit/fit_newton.h"
#include "bench/base/symmetric.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS_MOST = 50, HALVINGS_MOST = 30 };

/* Half of what the loss would still fall by, in nats of all rows together: a weight is then within a thousandth of its
 * standard error, if rows were independent. */
static const double near_enough = 1e-6;

typedef struct RowView {
    NewtonEntry *entries; /* null: only the score is asked for */
    int count;
    double score;
} RowView;

static void see(const FitNewton *n, RowView *view, int weight, double value)
{
    view->score += value * n->weights[weight];
    if (view->entries && n->column_of[weight] >= 0 && value != 0)
        view->entries[view->count++] = (NewtonEntry){n->column_of[weight], value};
}

static void see_term(const FitNewton *n, const FitRow *row, RowView *view)
{
    const FitSlope *slopes = &n->features->slopes[row->first_slope];
    double term = row->constant;
    if (!n->whole)
        view->score += row->constant;
    for (int i = 0; i < row->slopes; i++) {
        int weight = FIT_LEVER + slopes[i].weight;
        if (n->whole)
            term += (double)slopes[i].slope * n->centre[weight];
        else
            see(n, view, weight, (double)slopes[i].slope);
    }
    if (n->whole)
        see(n, view, FIT_WHOLE, term / 100);
}

static void see_row(const FitNewton *n, const FitRow *row, RowView *view)
{
    const FitCount *counts = &n->features->counts[row->first_count];
    double endgame = 0;
    for (int i = 0; i < row->counts; i++)
        endgame += counts[i].count * n->centre[2 * counts[i].pair + 1];
    double share = (double)row->endgame[endgame > 0 ? WHITE : BLACK];
    for (int i = 0; i < row->counts; i++) {
        see(n, view, 2 * counts[i].pair, counts[i].count * (double)row->middlegame);
        see(n, view, 2 * counts[i].pair + 1, counts[i].count * share);
    }
    see_term(n, row, view);
}

static double probability(const FitNewton *n, double score)
{
    return 1 / (1 + exp(-score / n->scale));
}

int fit_newton_row(const FitNewton *newton, const FitRow *row, NewtonEntry entries[NEWTON_ENTRIES_MAX],
                   double *push)
{
    RowView view = {.entries = entries};
    see_row(newton, row, &view);
    *push = (probability(newton, view.score) - (double)row->result) / newton->scale;
    return view.count;
}

static double prior_pull(const FitNewton *n, int column)
{
    return n->weight_of[column] < FIT_LEVER ? n->pull : 0;
}

static double loss_of(const FitNewton *n)
{
    double loss = 0;
    for (size_t i = 0; i < n->features->rows_count; i++) {
        RowView view = {.entries = NULL};
        see_row(n, &n->features->rows[i], &view);
        double z = view.score / n->scale;
        loss += log1p(exp(-fabs(z))) + (z > 0 ? z : 0) - (double)n->features->rows[i].result * z;
    }
    for (int c = 0; c < n->columns; c++) {
        double off = n->weights[n->weight_of[c]] - n->centre[n->weight_of[c]];
        loss += prior_pull(n, c) * off * off / 2;
    }
    return loss;
}

/* The gradient, and the lower triangle of the second derivative. */
static void differentiate(FitNewton *n, double *gradient)
{
    NewtonEntry entries[NEWTON_ENTRIES_MAX];
    size_t columns = (size_t)n->columns;
    memset(n->factor, 0, columns * columns * sizeof *n->factor);
    for (int c = 0; c < n->columns; c++) {
        double off = n->weights[n->weight_of[c]] - n->centre[n->weight_of[c]];
        gradient[c] = prior_pull(n, c) * off;
        n->factor[(size_t)c * columns + (size_t)c] = prior_pull(n, c);
    }
    for (size_t i = 0; i < n->features->rows_count; i++) {
        const FitRow *row = &n->features->rows[i];
        double push;
        int count = fit_newton_row(n, row, entries, &push);
        double p = push * n->scale + (double)row->result, bend = p * (1 - p) / (n->scale * n->scale);
        for (int a = 0; a < count; a++) {
            double *line = &n->factor[(size_t)entries[a].column * columns], value = bend * entries[a].value;
            gradient[entries[a].column] += push * entries[a].value;
            /* Columns stand in the order of the entries. */
            for (int b = 0; b <= a; b++)
                line[entries[b].column] += value * entries[b].value;
        }
    }
}

static void set_weights(FitNewton *n, const double *from, const double *step, double share)
{
    for (int c = 0; c < n->columns; c++)
        n->weights[n->weight_of[c]] = from[c] - share * step[c];
}

/* A Newton step, shortened until the loss falls. False if it does not. */
static bool step_down(FitNewton *n, const double *step, double *from, double *loss)
{
    double share = 1;
    for (int c = 0; c < n->columns; c++)
        from[c] = n->weights[n->weight_of[c]];
    for (int i = 0; i < HALVINGS_MOST; i++, share /= 2) {
        set_weights(n, from, step, share);
        double now = loss_of(n);
        if (now < *loss) {
            *loss = now;
            return true;
        }
    }
    set_weights(n, from, step, 0);
    return false;
}

/* At the end the factor is that of the place where the weights are. */
static NewtonEnd descend(FitNewton *n, double *gradient, double *step, double *from)
{
    double loss = loss_of(n);
    for (int i = 0; i < STEPS_MOST; i++) {
        differentiate(n, gradient);
        if (!symmetric_factorise(n->factor, n->columns))
            return NEWTON_LOST;
        double fall = 0;
        memcpy(step, gradient, (size_t)n->columns * sizeof *step);
        symmetric_solve(n->factor, n->columns, step);
        for (int c = 0; c < n->columns; c++)
            fall += gradient[c] * step[c] / 2;
        if (fall < near_enough)
            return NEWTON_DONE;
        if (!step_down(n, step, from, &loss))
            return NEWTON_LOST;
    }
    return NEWTON_LOST;
}

NewtonEnd fit_newton(FitNewton *newton)
{
    size_t columns = (size_t)newton->columns;
    double *vectors = malloc((3 * columns + 1) * sizeof *vectors);
    newton->factor = malloc((columns * columns + 1) * sizeof *newton->factor);
    NewtonEnd end = NEWTON_NO_MEMORY;
    if (vectors && newton->factor)
        end = descend(newton, vectors, vectors + columns, vectors + 2 * columns);
    free(vectors);
    return end;
}
