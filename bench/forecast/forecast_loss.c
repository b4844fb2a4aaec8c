#include "bench/forecast/forecast_loss.h"
#include "bench/forecast/forecast_odds.h"

#include <math.h>
#include <stdlib.h>

static const double weight = 2;

static const char *const names[FORECAST_KNOWING_COUNT] = {"side", "direction", "opening", "both"};

const char *forecast_knowing_name(int knowing)
{
    return names[knowing];
}

/* Levers of one half of the games. */
typedef struct Tally {
    double came[2]; /* on the queenside, on the kingside */
} Tally;

/* The share on the kingside, drawn towards another share. */
static double share_of(const Tally *tally, double towards)
{
    return (tally->came[1] + weight * towards) / (tally->came[0] + tally->came[1] + weight);
}

static double bits(double kingside, bool came_kingside)
{
    return -log2(came_kingside ? kingside : 1 - kingside);
}

static int half_of(const ForecastData *data, const ForecastUnit *unit)
{
    return (int)(data->games[unit->game].hash & 1);
}

typedef struct Half {
    Tally side[2], direction[2][2]; /* by side; by side and direction */
} Half;

/* Foretells the units of one stratum of opening and side. */
static void foretell(const ForecastData *data, const ForecastUnits *units, size_t first, size_t end,
                     const Half halves[2], ForecastLoss *loss, Influence *saved)
{
    Tally opening[2] = {0}, both[2][2] = {0};
    for (size_t i = first; i < end; i++) {
        const ForecastUnit *unit = &units->items[i];
        opening[half_of(data, unit)].came[unit->came_kingside]++;
        both[half_of(data, unit)][unit->named_kingside].came[unit->came_kingside]++;
    }
    for (size_t i = first; i < end; i++) {
        const ForecastUnit *unit = &units->items[i];
        int past = 1 - half_of(data, unit), named = unit->named_kingside;
        double by[FORECAST_KNOWING_COUNT];
        by[FORECAST_KNOWING_SIDE] = share_of(&halves[past].side[unit->side], 0.5);
        by[FORECAST_KNOWING_DIRECTION] =
            share_of(&halves[past].direction[unit->side][named], by[FORECAST_KNOWING_SIDE]);
        by[FORECAST_KNOWING_OPENING] = share_of(&opening[past], by[FORECAST_KNOWING_SIDE]);
        by[FORECAST_KNOWING_BOTH] = share_of(&both[past][named], by[FORECAST_KNOWING_DIRECTION]);
        for (int k = 0; k < (int)FORECAST_KNOWING_COUNT; k++)
            loss->loss[k] += bits(by[k], unit->came_kingside);
        saved[i] = (Influence){unit->opening, bits(by[FORECAST_KNOWING_OPENING], unit->came_kingside) -
                                                  bits(by[FORECAST_KNOWING_BOTH], unit->came_kingside)};
    }
}

static void set_saved(ForecastLoss *loss, Influence *saved)
{
    double n = (double)loss->n;
    loss->saved = loss->loss[FORECAST_KNOWING_OPENING] - loss->loss[FORECAST_KNOWING_BOTH];
    for (size_t i = 0; i < loss->n; i++)
        saved[i].value = (saved[i].value - loss->saved) / n;
    double reach = normal_quantile(0.5 + forecast_confidence / 2) * sqrt(clustered_variance(saved, loss->n));
    loss->saved_interval = (Interval){loss->saved - reach, loss->saved + reach};
}

bool forecast_loss(const ForecastData *data, const ForecastQuestion *question, ForecastLoss *loss)
{
    ForecastUnits units;
    Half halves[2] = {0};
    *loss = (ForecastLoss){0};
    if (!forecast_units(data, question, &units))
        return false;
    Influence *saved = malloc((units.count + 1) * sizeof *saved);
    loss->n = units.count;
    for (size_t i = 0; i < units.count; i++) {
        const ForecastUnit *unit = &units.items[i];
        Half *half = &halves[half_of(data, unit)];
        half->side[unit->side].came[unit->came_kingside]++;
        half->direction[unit->side][unit->named_kingside].came[unit->came_kingside]++;
    }
    for (size_t first = 0, end; first < units.count && saved != NULL; first = end) {
        end = forecast_stratum_end(&units, first);
        foretell(data, &units, first, end, halves, loss, saved);
    }
    for (int k = 0; k < (int)FORECAST_KNOWING_COUNT; k++)
        loss->loss[k] /= (double)loss->n;
    if (saved != NULL)
        set_saved(loss, saved);
    free(saved);
    forecast_units_free(&units);
    return saved != NULL;
}
