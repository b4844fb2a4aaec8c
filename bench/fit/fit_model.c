#include "bench/fit/fit_model.h"
#include "bench/base/parallel.h"
#include "bench/fit/fit_bounds.h"

#include <math.h>

enum { CHUNK = 8192 };

/* Sums over some of the rows. Always the same rows, added up in the same order: the result does not depend on
 * the number of workers. */
typedef struct Sums {
    double loss;
    size_t rows;
    double gradient[FIT_DIMENSION];
} Sums;

typedef struct Pass {
    const FitModel *model;
    Sums total;
} Pass;

typedef struct RowSums {
    double middlegame, endgame, lever;
} RowSums;

static RowSums sum_row(const FitFeatures *features, const FitRow *row, const double *weights)
{
    const FitCount *counts = &features->counts[row->first_count];
    const FitSlope *slopes = &features->slopes[row->first_slope];
    RowSums sums = {0, 0, row->constant};
    for (int i = 0; i < row->counts; i++) {
        const double *halves = &weights[2 * counts[i].pair];
        sums.middlegame += counts[i].count * halves[0];
        sums.endgame += counts[i].count * halves[1];
    }
    for (int i = 0; i < row->slopes; i++)
        sums.lever += (double)slopes[i].slope * weights[FIT_LEVER + slopes[i].weight];
    return sums;
}

static double endgame_share(const FitRow *row, const RowSums *sums)
{
    return row->endgame[sums->endgame > 0 ? WHITE : BLACK];
}

static double combine(const FitRow *row, const RowSums *sums)
{
    return row->middlegame * sums->middlegame + endgame_share(row, sums) * sums->endgame + sums->lever;
}

void fit_to_vector(const FitWeights *weights, double vector[FIT_DIMENSION])
{
    const Pair *pairs = (const Pair *)&weights->eval;
    ps_weights lever = weights->lever;
    for (int i = 0; i < PAIR_COUNT; i++) {
        vector[2 * i] = pair_middlegame(pairs[i]);
        vector[2 * i + 1] = pair_endgame(pairs[i]);
    }
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        vector[FIT_LEVER + i] = *ps_weight_at(&lever, i);
}

double fit_row_score(const FitFeatures *features, const FitRow *row, const double weights[FIT_DIMENSION])
{
    RowSums sums = sum_row(features, row, weights);
    return combine(row, &sums);
}

static void add_row(const FitModel *model, const FitRow *row, Sums *out)
{
    const FitFeatures *features = model->features;
    const FitCount *counts = &features->counts[row->first_count];
    const FitSlope *slopes = &features->slopes[row->first_slope];
    RowSums sums = sum_row(features, row, model->weights);
    double z = combine(row, &sums) / model->scale;
    double goal = fit_goal(row->result, row->score, model->scale, model->blend);
    double push = (1 / (1 + exp(-z)) - goal) / model->scale;
    double middlegame = push * row->middlegame, endgame = push * endgame_share(row, &sums);
    out->rows++;
    out->loss += log1p(exp(-fabs(z))) + (z > 0 ? z : 0) - goal * z;
    for (int i = 0; i < row->counts; i++) {
        double *halves = &out->gradient[2 * counts[i].pair];
        halves[0] += counts[i].count * middlegame;
        halves[1] += counts[i].count * endgame;
    }
    for (int i = 0; i < row->slopes; i++)
        out->gradient[FIT_LEVER + slopes[i].weight] += push * (double)slopes[i].slope;
}

static Taken take_chunk(void *context, size_t index, void *item)
{
    (void)item;
    return index * CHUNK < ((Pass *)context)->model->features->rows_count ? TAKEN_ITEM : TAKEN_END;
}

static bool run_chunk(void *context, void *own, size_t index, void *item)
{
    const FitModel *model = ((Pass *)context)->model;
    size_t end = (index + 1) * CHUNK;
    if (end > model->features->rows_count)
        end = model->features->rows_count;
    (void)own;
    for (size_t i = index * CHUNK; i < end; i++) {
        const FitRow *row = &model->features->rows[i];
        if (!row->held_out)
            add_row(model, row, item);
    }
    return true;
}

static bool deliver_chunk(void *context, size_t index, void *item)
{
    Sums *total = &((Pass *)context)->total;
    const Sums *part = item;
    (void)index;
    total->loss += part->loss;
    total->rows += part->rows;
    for (int i = 0; i < FIT_DIMENSION; i++)
        total->gradient[i] += part->gradient[i];
    return true;
}

double fit_goal(double result, int score, double scale, double blend)
{
    if (score == NO_FIT_SCORE)
        return result;
    return (1 - blend) * result + blend / (1 + exp(-score / scale));
}

bool fit_model_loss(const FitModel *model, double *loss, double gradient[FIT_DIMENSION])
{
    Pass pass = {.model = model};
    if (!parallel_run(&(Parallel){.workers = model->workers,
                                  .item_size = sizeof(Sums),
                                  .context = &pass,
                                  .take = take_chunk,
                                  .run = run_chunk,
                                  .deliver = deliver_chunk}))
        return false;
    double rows = (double)pass.total.rows;
    *loss = pass.total.loss / rows;
    for (int i = 0; i < FIT_DIMENSION; i++) {
        double off = model->weights[i] - model->centre[i];
        *loss += model->pull * off * off / 2;
        gradient[i] = pass.total.gradient[i] / rows + model->pull * off;
    }
    return true;
}

bool fit_model_step(FitModel *model)
{
    static const double greatest_step = 1.5, keep_momentum = 0.9, keep_spread = 0.999, tiny = 1e-12;
    double loss, gradient[FIT_DIMENSION];
    if (!fit_model_loss(model, &loss, gradient))
        return false;
    double rate = greatest_step * (1 + cos(acos(-1) * model->step / model->steps)) / 2;
    model->step++;
    double momentum_bias = 1 - pow(keep_momentum, model->step),
           spread_bias = 1 - pow(keep_spread, model->step);
    for (int i = 0; i < FIT_DIMENSION; i++) {
        double g = gradient[i], *m = &model->momentum[i], *v = &model->spread[i];
        *m = keep_momentum * *m + (1 - keep_momentum) * g;
        *v = keep_spread * *v + (1 - keep_spread) * g * g;
        model->weights[i] -= rate * (*m / momentum_bias) / (sqrt(*v / spread_bias) + tiny);
    }
    fit_make_sound(&model->weights[FIT_LEVER]);
    return true;
}
