#include "bench/forecast/forecast_odds.h"
#include "bench/base/random.h"

#include <math.h>
#include <stdlib.h>

const double forecast_confidence = 0.95;

double forecast_even_share(double odds_ratio)
{
    return sqrt(odds_ratio) / (1 + sqrt(odds_ratio));
}

/* Units in the order of forecast_units(): the sides of one game and opening need not stand together, so games are marked. */
static bool count_informing(const ForecastData *data, const ForecastUnits *units, ForecastOdds *odds)
{
    bool *seen = calloc(data->game_count + 1, sizeof *seen);
    if (seen == NULL)
        return false;
    for (size_t first = 0, end; first < units->count; first = end) {
        end = forecast_stratum_end(units, first);
        Stratum stratum = forecast_table(units, first, end);
        if (!stratum_informs(&stratum))
            continue;
        odds->informing++;
        odds->n_informing += end - first;
        for (size_t i = first; i < end; i++) {
            odds->games_informing += !seen[units->items[i].game];
            seen[units->items[i].game] = true;
        }
    }
    free(seen);
    return true;
}

static OddsRatio raw_odds(const ForecastUnits *units, double table[2][2])
{
    Stratum by_side[2] = {{.cluster = WHITE}, {.cluster = BLACK}};
    for (size_t i = 0; i < units->count; i++) {
        const ForecastUnit *unit = &units->items[i];
        by_side[unit->side].cell[!unit->named_kingside][!unit->came_kingside]++;
        table[!unit->named_kingside][!unit->came_kingside]++;
    }
    return mantel_haenszel(by_side, 2, forecast_confidence);
}

static OddsRatio with_clusters(const Stratum *strata, size_t count, const OddsRatio *within, Influence *room)
{
    mantel_haenszel_influence(strata, count, within->estimate, 1, room);
    return odds_ratio_from(log(within->estimate), sqrt(clustered_variance(room, count)), forecast_confidence);
}

static bool fill_odds(const ForecastData *data, const ForecastUnits *units, Stratum *strata, Influence *room,
                      ForecastOdds *odds)
{
    odds->n = units->count;
    odds->raw = raw_odds(units, odds->table);
    odds->strata = forecast_strata(units, strata);
    odds->within = mantel_haenszel(strata, odds->strata, forecast_confidence);
    odds->clustered = with_clusters(strata, odds->strata, &odds->within, room);
    odds->homogeneity = breslow_day_tarone(strata, odds->strata, odds->within.estimate);
    return count_informing(data, units, odds);
}

/* Also hands out the strata's influences, odds->strata of them, to be freed. */
static bool odds_with_influences(const ForecastData *data, const ForecastQuestion *question, double factor,
                                 ForecastOdds *odds, Influence **influences)
{
    ForecastUnits units;
    *influences = NULL;
    *odds = (ForecastOdds){.question = *question};
    if (!forecast_units(data, question, &units))
        return false;
    Stratum *strata = malloc((units.count + 1) * sizeof *strata);
    *influences = malloc((units.count + 1) * sizeof **influences);
    bool good = strata != NULL && *influences != NULL && fill_odds(data, &units, strata, *influences, odds);
    if (good)
        mantel_haenszel_influence(strata, odds->strata, odds->within.estimate, factor, *influences);
    free(strata);
    forecast_units_free(&units);
    return good;
}

bool forecast_odds(const ForecastData *data, const ForecastQuestion *question, ForecastOdds *odds)
{
    Influence *influences;
    bool good = odds_with_influences(data, question, 1, odds, &influences);
    free(influences);
    return good;
}

bool forecast_compare_odds(const ForecastData *data, const ForecastQuestion *first,
                           const ForecastQuestion *second, ForecastOddsRatioOfTwo *out)
{
    Influence *of_first, *of_second = NULL, *both = NULL;
    bool good = odds_with_influences(data, first, 1, &out->first, &of_first) &&
                odds_with_influences(data, second, -1, &out->second, &of_second);
    size_t count = good ? out->first.strata + out->second.strata : 0;
    good = good && (both = malloc((count + 1) * sizeof *both)) != NULL;
    if (good) {
        for (size_t i = 0; i < count; i++)
            both[i] = i < out->first.strata ? of_first[i] : of_second[i - out->first.strata];
        double log_ratio = log(out->first.within.estimate / out->second.within.estimate);
        double error = hypot(out->first.within.log_error, out->second.within.log_error);
        out->independent = odds_ratio_from(log_ratio, error, forecast_confidence);
        out->clustered =
            odds_ratio_from(log_ratio, sqrt(clustered_variance(both, count)), forecast_confidence);
    }
    free(of_first);
    free(of_second);
    free(both);
    return good;
}

/* ------------------------------------------------------------------------------------------- permutations */

/* Takes out the units of strata that do not inform. They never will, as dealing leaves the margins alone. */
static void keep_informing(ForecastUnits *units)
{
    size_t kept = 0;
    for (size_t first = 0, end; first < units->count; first = end) {
        end = forecast_stratum_end(units, first);
        Stratum stratum = forecast_table(units, first, end);
        for (size_t i = first; i < end && stratum_informs(&stratum); i++)
            units->items[kept++] = units->items[i];
    }
    units->count = kept;
}

static void deal_anew(ForecastUnits *units, Random *random)
{
    for (size_t first = 0, end; first < units->count; first = end) {
        end = forecast_stratum_end(units, first);
        for (size_t i = end - 1; i > first; i--) {
            size_t other = first + (size_t)random_below(random, i - first + 1);
            bool kept = units->items[i].named_kingside;
            units->items[i].named_kingside = units->items[other].named_kingside;
            units->items[other].named_kingside = kept;
        }
    }
}

static int compare_numbers(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The logarithms of the ratios become a summary. */
static void summarise(double *logs, int count, double real, ForecastPermuted *out)
{
    int as_far = 0;
    double sum = 0;
    for (int i = 0; i < count; i++) {
        sum += logs[i];
        as_far += fabs(logs[i]) >= fabs(real) - 1e-9;
    }
    out->rounds = count;
    out->mean = out->range.low = out->range.high = out->p = NAN;
    if (count == 0 || isnan(real))
        return;
    qsort(logs, (size_t)count, sizeof *logs, compare_numbers);
    int tail = (int)((1 - forecast_confidence) / 2 * count);
    out->mean = exp(sum / count);
    out->range = (Interval){exp(logs[tail]), exp(logs[count - 1 - tail])};
    out->p = (as_far + 1.0) / (count + 1.0);
}

bool forecast_permute(const ForecastData *data, const ForecastQuestion *question, int rounds, uint64_t seed,
                      ForecastPermuted *out)
{
    ForecastUnits units;
    if (!forecast_units(data, question, &units))
        return false;
    keep_informing(&units);
    Stratum *strata = malloc((units.count + 1) * sizeof *strata);
    double *logs = malloc(((size_t)rounds + 1) * sizeof *logs);
    bool good = strata != NULL && logs != NULL;
    if (good) {
        int count = 0;
        Random random = random_seeded(seed);
        double real =
            log(mantel_haenszel(strata, forecast_strata(&units, strata), forecast_confidence).estimate);
        for (int round = 0; round < rounds; round++) {
            deal_anew(&units, &random);
            OddsRatio ratio = mantel_haenszel(strata, forecast_strata(&units, strata), forecast_confidence);
            if (!isnan(ratio.estimate))
                logs[count++] = log(ratio.estimate);
        }
        summarise(logs, count, real, out);
    }
    free(strata);
    free(logs);
    forecast_units_free(&units);
    return good;
}
