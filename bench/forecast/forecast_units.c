#include "bench/forecast/forecast_units.h"

#include <stdlib.h>

static bool is_wing(int region)
{
    return region == PS_KINGSIDE || region == PS_QUEENSIDE;
}

bool forecast_points_both_ways(const ForecastData *data, size_t i)
{
    /* The two rows stand one behind the other. */
    const ForecastEntry *entry = &data->rows[i];
    for (size_t other = i == 0 ? 0 : i - 1; other <= i + 1 && other < data->row_count; other++) {
        const ForecastEntry *beside = &data->rows[other];
        if (other != i && beside->game == entry->game && beside->row.moment == entry->row.moment &&
            beside->row.side == entry->row.side)
            return true;
    }
    return false;
}

static bool answers(const ForecastData *data, size_t i, const ForecastQuestion *question, ForecastUnit *unit)
{
    const ForecastEntry *entry = &data->rows[i];
    const ForecastRow *row = &entry->row;
    if (row->moment != question->moment ||
        (question->verdict != FORECAST_ANY && row->verdict != question->verdict) ||
        (question->side != FORECAST_ANY && row->side != question->side))
        return false;
    int came = forecast_region(question->earlier ? row->earlier : row->first);
    if (!is_wing(row->region) || !is_wing(came) || forecast_points_both_ways(data, i))
        return false;
    *unit = (ForecastUnit){.opening = entry->opening,
                           .game = entry->game,
                           .side = row->side,
                           .named_kingside = row->region == PS_KINGSIDE,
                           .came_kingside = came == PS_KINGSIDE};
    return true;
}

static int compare(const void *a, const void *b)
{
    const ForecastUnit *x = a, *y = b;
    if (x->opening != y->opening)
        return x->opening < y->opening ? -1 : 1;
    if (x->side != y->side)
        return x->side < y->side ? -1 : 1;
    return (x->game > y->game) - (x->game < y->game);
}

bool forecast_units(const ForecastData *data, const ForecastQuestion *question, ForecastUnits *units)
{
    ForecastUnit unit;
    size_t count = 0;
    for (size_t i = 0; i < data->row_count; i++)
        count += answers(data, i, question, &unit);
    *units = (ForecastUnits){.items = malloc((count + 1) * sizeof unit)};
    if (units->items == NULL)
        return false;
    for (size_t i = 0; i < data->row_count; i++)
        if (answers(data, i, question, &unit))
            units->items[units->count++] = unit;
    qsort(units->items, count, sizeof unit, compare);
    return true;
}

void forecast_units_free(ForecastUnits *units)
{
    free(units->items);
    *units = (ForecastUnits){0};
}

size_t forecast_stratum_end(const ForecastUnits *units, size_t first)
{
    const ForecastUnit *unit = &units->items[first];
    size_t end = first + 1;
    while (end < units->count && units->items[end].opening == unit->opening &&
           units->items[end].side == unit->side)
        end++;
    return end;
}

Stratum forecast_table(const ForecastUnits *units, size_t first, size_t end)
{
    Stratum stratum = {.cluster = first < end ? units->items[first].opening : 0};
    for (size_t i = first; i < end; i++)
        stratum.cell[!units->items[i].named_kingside][!units->items[i].came_kingside]++;
    return stratum;
}

size_t forecast_strata(const ForecastUnits *units, Stratum *strata)
{
    size_t count = 0;
    for (size_t first = 0; first < units->count;) {
        size_t end = forecast_stratum_end(units, first);
        strata[count++] = forecast_table(units, first, end);
        first = end;
    }
    return count;
}
