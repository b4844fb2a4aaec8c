#include "bench/fit/fit.h"
#include "bench/base/complaint.h"
#include "bench/base/progress.h"
#include "bench/fit/fit_loss.h"
#include "bench/fit/fit_model.h"
#include "bench/fit/fit_units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PAIR_MOST = 30000 };

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out for the fit");
    return false;
}

/* ---------------------------------------------------------------------------------- weights as a vector */

static int rounded_half(double value)
{
    long whole = lround(value);
    return (int)(whole > PAIR_MOST ? PAIR_MOST : whole < -PAIR_MOST ? -PAIR_MOST : whole);
}

static void from_vector(const double vector[FIT_DIMENSION], FitWeights *weights)
{
    Pair *pairs = (Pair *)&weights->eval;
    for (int i = 0; i < PAIR_COUNT; i++)
        pairs[i] = PAIR(rounded_half(vector[2 * i]), rounded_half(vector[2 * i + 1]));
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        *ps_weight_at(&weights->lever, i) = (int)lround(vector[FIT_LEVER + i]);
}

/* ---------------------------------------------------------------------------------------------- the fit */

static bool descend(FitModel *model, FitFeatures *features, const FitSample *sample, bool quiet)
{
    Progress progress;
    bool good = true;
    progress_start(&progress, "steps", (size_t)model->steps, quiet);
    for (int step = 0, round = 0; good && step < model->steps; step++) {
        if (step >= round * model->steps / FIT_ROUNDS) {
            good = fit_features_linearise(features, sample, &model->weights[FIT_LEVER]);
            round++;
        }
        good = good && fit_model_step(model);
        progress_show(&progress, (size_t)step + 1, NULL);
    }
    progress_clear(&progress);
    return good || no_memory();
}

static bool find_weights(FitWeights *weights, const FitSample *sample, const FitSettings *settings,
                         FitReport *report)
{
    FitFeatures features = {0};
    FitModel *model = calloc(1, sizeof *model);
    bool good = model && fit_features_extract(&features, sample, &weights->eval.units, settings->workers);
    if (good) {
        model->features = &features;
        model->scale = report->scale;
        model->pull = 1 / ((double)report->fitted.games * settings->prior * settings->prior);
        model->blend = settings->blend;
        model->steps = settings->steps;
        model->workers = settings->workers;
        fit_to_vector(weights, model->centre);
        memcpy(model->weights, model->centre, sizeof model->weights);
        good = descend(model, &features, sample, settings->quiet);
        for (int i = 0; i < FIT_LEVER; i++)
            report->unseen += model->spread[i] == 0;
    } else {
        no_memory();
    }
    if (good)
        from_vector(model->weights, weights);
    fit_features_free(&features);
    free(model);
    return good;
}

static int count_changes(const FitWeights *a, const FitWeights *b)
{
    double before[FIT_DIMENSION], after[FIT_DIMENSION];
    int changes = 0;
    fit_to_vector(a, before);
    fit_to_vector(b, after);
    for (int i = 0; i < FIT_DIMENSION; i++)
        changes += before[i] != after[i];
    return changes;
}

static bool count_parts(const FitSample *sample, FitReport *report)
{
    if (!fit_sample_count_games(sample, &report->fitted.games, &report->held_out.games))
        return no_memory();
    for (size_t i = 0; i < sample->count; i++)
        (fit_held_out(sample->positions[i].family) ? &report->held_out : &report->fitted)->positions++;
    if (report->fitted.games && report->held_out.games)
        return true;
    complain(NULL, 0,
             "the sample has positions of %zu games to fit and of %zu to hold out; expected both (games that "
             "have a position in common go to the same part)",
             report->fitted.games, report->held_out.games);
    return false;
}

/* False if memory runs out. */
static bool find_search_scale(const FitSample *sample, double *scale)
{
    int *scores = malloc((sample->count + 1) * sizeof *scores);
    bool known = true;
    if (!scores)
        return no_memory();
    for (size_t i = 0; i < sample->count; i++) {
        scores[i] = sample->positions[i].score;
        known &= scores[i] != NO_FIT_SCORE;
    }
    *scale = known ? fit_scale(sample, scores) : NAN;
    free(scores);
    return true;
}

bool fit(FitWeights *weights, const FitSample *sample, const FitSettings *settings, FitReport *report)
{
    *report = (FitReport){.halves = FIT_LEVER};
    if (!count_parts(sample, report))
        return false;
    FitWeights fitted = *weights;
    int *before = fit_scores(sample, weights), *after = NULL;
    bool good = (before || no_memory()) && find_search_scale(sample, &report->search_scale);
    if (good) {
        report->scale = settings->scale > 0 ? settings->scale : fit_scale(sample, before);
        good = find_weights(&fitted, sample, settings, report);
        for (int pass = 0; good && pass < settings->passes; pass++)
            good =
                (fit_units_search(&fitted, sample, report->scale, settings->blend, pass, settings->quiet) ||
                 no_memory()) &&
                find_weights(&fitted, sample, settings, report);
    }
    if (good) {
        after = fit_scores(sample, &fitted);
        good =
            (after && fit_loss_change(sample, before, after, report->scale, &report->change)) || no_memory();
    }
    if (good) {
        report->fitted.before = fit_loss(sample, before, false, report->scale, 0);
        report->held_out.before = fit_loss(sample, before, true, report->scale, 0);
        report->fitted.after = fit_loss(sample, after, false, report->scale, 0);
        report->held_out.after = fit_loss(sample, after, true, report->scale, 0);
        report->changed = count_changes(weights, &fitted);
        *weights = fitted;
    }
    free(before);
    free(after);
    return good;
}
