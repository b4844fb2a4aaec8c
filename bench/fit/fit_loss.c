#include "bench/fit/fit_loss.h"
#include "bench/fit/fit_model.h"
#include "engine/evaluation/evaluate.h"

#include <math.h>
#include <stdlib.h>

int *fit_scores(const FitSample *sample, const FitWeights *weights)
{
    Evaluator evaluator = {.weights = &weights->eval, .lever_weights = weights->lever, .lever_weight = 100};
    int *scores = malloc((sample->count + 1) * sizeof *scores);
    if (!scores || !pawn_table_create(&evaluator.pawns, &weights->eval, PS_STRICT)) {
        free(scores);
        return NULL;
    }
    for (size_t i = 0; i < sample->count; i++) {
        const Position *p = &sample->positions[i].position;
        if (sample->positions[i].root.key == p->key)
            evaluator.intent = (ps_intent){0};
        else
            evaluate_intend(&evaluator, &sample->positions[i].root);
        int score = evaluate(&evaluator, p);
        scores[i] = position_turn(p) == WHITE ? score : -score;
    }
    pawn_table_destroy(&evaluator.pawns);
    return scores;
}

static double loss_of(const FitPosition *p, int score, double scale, double blend)
{
    double z = score / scale;
    return log1p(exp(-fabs(z))) + (z > 0 ? z : 0) -
           z * fit_goal(p->white_points / 2.0, p->score, scale, blend);
}

double fit_loss(const FitSample *sample, const int *scores, bool held_out, double scale, double blend)
{
    double loss = 0;
    size_t count = 0;
    for (size_t i = 0; i < sample->count; i++) {
        const FitPosition *p = &sample->positions[i];
        if (fit_held_out(p->family) != held_out)
            continue;
        loss += loss_of(p, scores[i], scale, blend);
        count++;
    }
    return count ? loss / (double)count : NAN;
}

bool fit_loss_change(const FitSample *sample, const int *before, const int *after, double scale,
                     ClusteredMean *change)
{
    size_t families = 1;
    for (size_t i = 0; i < sample->count; i++)
        if (sample->positions[i].family >= families)
            families = (size_t)sample->positions[i].family + 1;
    double *sums = calloc(families, sizeof *sums);
    size_t *sizes = calloc(families, sizeof *sizes);
    bool good = sums && sizes;
    for (size_t i = 0; good && i < sample->count; i++) {
        const FitPosition *p = &sample->positions[i];
        if (!fit_held_out(p->family))
            continue;
        sums[p->family] += loss_of(p, after[i], scale, 0) - loss_of(p, before[i], scale, 0);
        sizes[p->family]++;
    }
    if (good)
        *change = clustered_mean(sums, sizes, families, 0.95);
    free(sums);
    free(sizes);
    return good;
}

double fit_scale(const FitSample *sample, const int *scores)
{
    static const double shrink = 0.6180339887498949; /* the golden ratio's inverse */
    double low = log(10), high = log(5000);
    double left = high - shrink * (high - low), right = low + shrink * (high - low);
    double at_left = fit_loss(sample, scores, false, exp(left), 0),
           at_right = fit_loss(sample, scores, false, exp(right), 0);
    while (high - low > 1e-4) {
        if (at_left < at_right) {
            high = right;
            right = left;
            at_right = at_left;
            left = high - shrink * (high - low);
            at_left = fit_loss(sample, scores, false, exp(left), 0);
        } else {
            low = left;
            left = right;
            at_left = at_right;
            right = low + shrink * (high - low);
            at_right = fit_loss(sample, scores, false, exp(right), 0);
        }
    }
    return exp((low + high) / 2);
}
