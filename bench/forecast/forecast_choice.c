#include "bench/forecast/forecast_choice.h"
#include "bench/forecast/forecast_units.h"

#include <stdlib.h>
#include <string.h>

static const char *const names[FORECAST_COVARIATE_COUNT] = {
    "named", "named_rammed", "named_black", "steps", "blockers", "support", "own_king", "other_king"};

const char *forecast_covariate_name(int covariate)
{
    return names[covariate];
}

const char *forecast_covariate_words(int covariate)
{
    static const char *const words[FORECAST_COVARIATE_COUNT] = {
        "the named lever",        "the same, where locked",  "the same, of Black",
        "each step more",         "each piece in the way",   "each man of support",
        "on the own king's wing", "on the other king's wing"};
    return words[covariate];
}

static void write_covariates(const ForecastRow *row, const ForecastChoice *choice, double *x)
{
    ps_region region = forecast_region(choice->goal);
    double named = choice->goal == row->lever;
    x[FORECAST_NAMED] = named;
    x[FORECAST_NAMED_RAMMED] = row->moment == FORECAST_FIRM ? named : 0;
    x[FORECAST_NAMED_BLACK] = row->side == BLACK ? named : 0;
    x[FORECAST_STEPS] = choice->steps;
    x[FORECAST_BLOCKERS] = choice->blockers;
    x[FORECAST_SUPPORT] = choice->support;
    x[FORECAST_OWN_KING] = region == forecast_region(row->kings[0]);
    x[FORECAST_OTHER_KING] = region == forecast_region(row->kings[1]);
}

/* What to do with a row; counts why not. `set` says which alternatives and which was chosen. */
static bool use_row(const ForecastData *data, size_t i, ForecastChoiceModel *model, LogitSet *set)
{
    const ForecastEntry *entry = &data->rows[i];
    const ForecastRow *row = &entry->row;
    if ((row->moment != FORECAST_FIRM && row->moment != FORECAST_NOT_RAMMED) ||
        forecast_points_both_ways(data, i))
        return false;
    model->candidates++;
    if (row->first == PS_NO_SQUARE) {
        model->no_lever++;
        return false;
    }
    for (uint32_t c = 0; c < row->choice_count; c++) {
        if (data->choices[entry->first_choice + c].goal != row->first)
            continue;
        model->no_choice += row->choice_count == 1;
        *set = (LogitSet){.first = i, .count = row->choice_count, .chosen = c, .cluster = entry->opening};
        return row->choice_count > 1;
    }
    model->not_there++;
    return false;
}

static int compare(const void *a, const void *b)
{
    const LogitSet *x = a, *y = b;
    if (x->cluster != y->cluster)
        return x->cluster < y->cluster ? -1 : 1;
    return (x->first > y->first) - (x->first < y->first);
}

/* Until here `first` of a set is its row; now it becomes its place among the covariates. */
static void fill_covariates(const ForecastData *data, LogitSet *sets, size_t count, double *covariates)
{
    size_t alternatives = 0;
    for (size_t i = 0; i < count; i++) {
        const ForecastEntry *entry = &data->rows[sets[i].first];
        sets[i].first = alternatives;
        for (uint32_t c = 0; c < sets[i].count; c++)
            write_covariates(&entry->row, &data->choices[entry->first_choice + c],
                             covariates + FORECAST_COVARIATE_COUNT * alternatives++);
    }
}

bool forecast_fit_choice(const ForecastData *data, ForecastChoiceModel *model)
{
    LogitSet *sets = malloc((data->row_count + 1) * sizeof *sets);
    *model = (ForecastChoiceModel){0};
    if (sets == NULL)
        return false;
    for (size_t i = 0; i < data->row_count; i++) {
        if (use_row(data, i, model, &sets[model->sides])) {
            model->alternatives += sets[model->sides].count;
            model->sides++;
        }
    }
    double *covariates = malloc((model->alternatives * FORECAST_COVARIATE_COUNT + 1) * sizeof *covariates);
    if (covariates != NULL) {
        qsort(sets, model->sides, sizeof *sets, compare);
        fill_covariates(data, sets, model->sides, covariates);
        model->fitted =
            conditional_logit(sets, model->sides, covariates, FORECAST_COVARIATE_COUNT, &model->fit);
    }
    free(sets);
    free(covariates);
    return covariates != NULL;
}
