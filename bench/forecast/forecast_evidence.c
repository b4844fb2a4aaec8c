#include "bench/forecast/forecast_evidence.h"
#include "bench/base/array.h"

#include <stdlib.h>
#include <string.h>

const char *forecast_witness_name(ForecastWitness witness)
{
    static const char *const names[FORECAST_WITNESS_COUNT] = {"game", "line", "continuation"};
    return names[witness];
}

bool forecast_evidence_add_price(ForecastEvidence *evidence, const char *file, const ForecastPrice *price)
{
    ForecastPrice added = *price;
    if (!forecast_data_find_file(&evidence->of[FORECAST_LINES], file, &added.file) ||
        !array_reserve(evidence->prices, evidence->price_capacity, evidence->price_count, 1))
        return false;
    evidence->prices[evidence->price_count++] = added;
    return true;
}

bool forecast_evidence_agree(ForecastEvidence *evidence, const ForecastSettings *settings)
{
    const ForecastSettings *own = &evidence->settings;
    if (!evidence->has_settings)
        evidence->settings = *settings;
    evidence->has_settings = true;
    return own->nodes == settings->nodes && own->plies == settings->plies &&
           own->price_nodes == settings->price_nodes && own->playouts == settings->playouts &&
           own->playout_nodes == settings->playout_nodes && own->seed == settings->seed;
}

/* By the names of the files, which is no order of their own to qsort(). */
typedef struct Place {
    const char *file;
    size_t number, index;
} Place;

static int compare_places(const void *a, const void *b)
{
    const Place *x = a, *y = b;
    int files = strcmp(x->file, y->file);
    return files ? files : (x->number > y->number) - (x->number < y->number);
}

static bool sort_prices(ForecastEvidence *evidence)
{
    size_t count = evidence->price_count;
    Place *places = malloc((count + 1) * sizeof *places);
    ForecastPrice *sorted = malloc((count + 1) * sizeof *sorted);
    bool good = places != NULL && sorted != NULL;
    for (size_t i = 0; i < count && good; i++) {
        const ForecastPrice *price = &evidence->prices[i];
        places[i] = (Place){evidence->of[FORECAST_LINES].files[price->file], price->number, i};
    }
    if (good) {
        qsort(places, count, sizeof *places, compare_places);
        for (size_t i = 0; i < count; i++)
            sorted[i] = evidence->prices[places[i].index];
        free(evidence->prices);
        evidence->prices = sorted;
        evidence->price_capacity = count + 1;
    } else {
        free(sorted);
    }
    free(places);
    return good;
}

bool forecast_evidence_sort(ForecastEvidence *evidence)
{
    bool good = sort_prices(evidence);
    for (int witness = 0; witness < (int)FORECAST_WITNESS_COUNT; witness++)
        good = good && forecast_data_sort(&evidence->of[witness]);
    return good;
}

void forecast_evidence_free(ForecastEvidence *evidence)
{
    for (int witness = 0; witness < (int)FORECAST_WITNESS_COUNT; witness++)
        forecast_data_free(&evidence->of[witness]);
    free(evidence->prices);
    *evidence = (ForecastEvidence){0};
}
