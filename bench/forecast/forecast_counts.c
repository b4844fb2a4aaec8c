#include "bench/forecast/forecast_counts.h"

/* By alphabet: applies, fulfilled, linked, misleading, none, weak; centre, kingside, queenside. */
static const int verdict_order[FORECAST_VERDICT_COUNT] = {PS_APPLIES,    PS_FULFILLED, FORECAST_LINKED,
                                                          PS_MISLEADING, PS_NONE,      PS_WEAK};
static const ps_region region_order[PS_REGION_COUNT] = {PS_CENTRE, PS_KINGSIDE, PS_QUEENSIDE};

const char *forecast_place_name(int place)
{
    return place == FORECAST_NO_LEVER ? "none" : ps_region_name((ps_region)place);
}

int forecast_place(const ForecastRow *row)
{
    return row->first == PS_NO_SQUARE ? (int)FORECAST_NO_LEVER : (int)forecast_region(row->first);
}

double forecast_points(const ForecastCell *cell)
{
    return (double)cell->won + 0.5 * (double)cell->drawn;
}

static void add_place(ForecastPlaces *places, const ForecastRow *row)
{
    places->n++;
    places->first[forecast_place(row)]++;
    places->named +=
        row->verdict != FORECAST_LINKED && row->first != PS_NO_SQUARE && row->first == row->lever;
}

static void add_row(ForecastCell *cell, const ForecastHead *game, const ForecastRow *row)
{
    int rating = game->rating[row->side];
    add_place(&cell->all, row);
    add_place(&cell->by_rating[rating > 0 ? rating_band(rating) : (int)RATING_BAND_COUNT], row);
    if (row->first != PS_NO_SQUARE)
        cell->delay += (uint64_t)(row->first_ply - row->ply);
    if (game->result == PGN_DRAW)
        cell->drawn++;
    else if (game->result != PGN_NO_RESULT)
        *((game->result == PGN_WHITE_WINS) == (row->side == WHITE) ? &cell->won : &cell->lost) += 1;
}

void forecast_count(const ForecastData *data, ForecastCounts *counts)
{
    *counts = (ForecastCounts){.complete = forecast_data_is_complete(data)};
    for (size_t i = 0; i < data->part_count; i++) {
        counts->games += data->parts[i].games;
        counts->skipped += data->parts[i].skipped;
        counts->plies += data->parts[i].plies;
    }
    for (size_t i = 0; i < data->row_count; i++) {
        const ForecastEntry *entry = &data->rows[i];
        const ForecastRow *row = &entry->row;
        if (row->moment < FORECAST_PRINTED_MOMENTS)
            add_row(&counts->cells[row->moment][row->side][row->verdict][row->region],
                    &data->games[entry->game], row);
    }
}

void forecast_each_cell(const ForecastCounts *counts, ForecastUseCell use, void *context)
{
    for (int moment = 0; moment < (int)FORECAST_PRINTED_MOMENTS; moment++)
        for (int side = WHITE; side <= BLACK; side++)
            for (int v = 0; v < (int)FORECAST_VERDICT_COUNT; v++)
                for (int r = 0; r < (int)PS_REGION_COUNT; r++) {
                    const ForecastCell *cell =
                        &counts->cells[moment][side][verdict_order[v]][region_order[r]];
                    if (cell->all.n > 0)
                        use(context, (ForecastMoment)moment, (Side)side, verdict_order[v], region_order[r],
                            cell);
                }
}
