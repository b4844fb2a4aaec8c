#include "bench/forecast/forecast_json.h"
#include "bench/base/json_line.h"

#include <math.h>

static void add_count(cJSON *object, const char *name, size_t count)
{
    cJSON_AddNumberToObject(object, name, (double)count);
}

static void add_number(cJSON *object, const char *name, double number)
{
    if (isfinite(number))
        cJSON_AddNumberToObject(object, name, number);
    else
        cJSON_AddNullToObject(object, name);
}

static void add_item(cJSON *array, cJSON *item)
{
    cJSON_AddItemToArray(array, item);
}

/* ------------------------------------------------------------------------------------------------- counts */

static void add_places(cJSON *object, const ForecastPlaces *places)
{
    add_count(object, "n", places->n);
    cJSON *first = cJSON_AddObjectToObject(object, "first_lever");
    for (int place = 0; place < (int)FORECAST_PLACE_COUNT; place++)
        add_count(first, forecast_place_name(place), places->first[place]);
    add_count(object, "named", places->named);
}

static void add_ratings(cJSON *object, const ForecastCell *cell)
{
    cJSON *ratings = cJSON_AddArrayToObject(object, "ratings");
    for (int band = 0; band <= (int)RATING_BAND_COUNT; band++) {
        if (cell->by_rating[band].n == 0)
            continue;
        cJSON *entry = cJSON_CreateObject();
        if (band < (int)RATING_BAND_COUNT)
            cJSON_AddStringToObject(entry, "band", rating_band_names[band]);
        else
            cJSON_AddNullToObject(entry, "band");
        add_places(entry, &cell->by_rating[band]);
        add_item(ratings, entry);
    }
}

static void add_row(void *context, ForecastMoment moment, Side side, int verdict, ps_region region,
                    const ForecastCell *cell)
{
    cJSON *row = cJSON_CreateObject();
    size_t with_lever = cell->all.n - cell->all.first[FORECAST_NO_LEVER];
    cJSON_AddStringToObject(row, "moment", forecast_moment_name(moment));
    cJSON_AddStringToObject(row, "side", ps_side_name(side));
    cJSON_AddStringToObject(row, "verdict", forecast_verdict_name(verdict));
    cJSON_AddStringToObject(row, "region", ps_region_name(region));
    add_places(row, &cell->all);
    cJSON_AddNumberToObject(row, "points", forecast_points(cell));
    add_count(row, "finished", cell->won + cell->drawn + cell->lost);
    add_number(row, "plies_to_lever", (double)cell->delay / (double)with_lever);
    add_ratings(row, cell);
    add_item(context, row);
}

/* --------------------------------------------------------------------------------------------- controls */

static cJSON *odds_object(const ForecastOdds *odds)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "moment", forecast_moment_name((ForecastMoment)odds->question.moment));
    if (odds->question.verdict == FORECAST_ANY)
        cJSON_AddNullToObject(object, "verdict");
    else
        cJSON_AddStringToObject(object, "verdict", forecast_verdict_name(odds->question.verdict));
    cJSON_AddStringToObject(object, "side", forecast_side_name(odds->question.side));
    add_count(object, "n", odds->n);
    cJSON *table = cJSON_AddArrayToObject(object, "table");
    for (int row = 0; row < 2; row++)
        add_item(table, cJSON_CreateDoubleArray(odds->table[row], 2));
    cJSON *raw = cJSON_AddObjectToObject(object, "raw");
    add_number(raw, "estimate", odds->raw.estimate);
    add_number(raw, "low", odds->raw.interval.low);
    add_number(raw, "high", odds->raw.interval.high);
    cJSON *within = cJSON_AddObjectToObject(object, "within");
    add_number(within, "estimate", odds->within.estimate);
    add_number(within, "low", odds->within.interval.low);
    add_number(within, "high", odds->within.interval.high);
    add_number(within, "clustered_low", odds->clustered.interval.low);
    add_number(within, "clustered_high", odds->clustered.interval.high);
    add_number(within, "log_error", odds->within.log_error);
    add_count(within, "strata", odds->strata);
    add_count(within, "informing", odds->informing);
    add_count(within, "n_informing", odds->n_informing);
    add_count(within, "games_informing", odds->games_informing);
    cJSON *homogeneity = cJSON_AddObjectToObject(object, "homogeneity");
    add_number(homogeneity, "chi_square", odds->homogeneity.chi_square);
    add_count(homogeneity, "degrees", odds->homogeneity.degrees);
    add_number(homogeneity, "p", odds->homogeneity.p);
    return object;
}

static void add_odds(cJSON *object, const ForecastFindings *findings)
{
    cJSON *primary = odds_object(forecast_primary(findings));
    cJSON_AddBoolToObject(primary, "holds", forecast_holds(findings));
    cJSON_AddItemToObject(object, "primary", primary);
    cJSON *all = cJSON_AddArrayToObject(object, "odds");
    for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++)
        if (findings->odds[i].n > 0)
            add_item(all, odds_object(&findings->odds[i]));
    cJSON *lock = cJSON_AddArrayToObject(object, "lock");
    for (int i = 0; i < 3; i++) {
        const ForecastOddsRatioOfTwo *two = &findings->lock[i];
        cJSON *entry = cJSON_CreateObject();
        cJSON_AddStringToObject(entry, "side", forecast_side_name(two->first.question.side));
        add_number(entry, "estimate", two->independent.estimate);
        add_number(entry, "low", two->independent.interval.low);
        add_number(entry, "high", two->independent.interval.high);
        add_number(entry, "clustered_low", two->clustered.interval.low);
        add_number(entry, "clustered_high", two->clustered.interval.high);
        add_item(lock, entry);
    }
}

static void add_choice(cJSON *object, const ForecastChoiceModel *model)
{
    if (!model->fitted) {
        cJSON_AddNullToObject(object, "choice");
        return;
    }
    cJSON *choice = cJSON_AddObjectToObject(object, "choice");
    add_count(choice, "sides", model->sides);
    add_count(choice, "alternatives", model->alternatives);
    add_count(choice, "candidates", model->candidates);
    add_count(choice, "no_lever", model->no_lever);
    add_count(choice, "not_there", model->not_there);
    add_count(choice, "no_choice", model->no_choice);
    add_count(choice, "openings", model->fit.clusters);
    add_number(choice, "log_likelihood", model->fit.log_likelihood);
    add_number(choice, "null_log_likelihood", model->fit.null_log_likelihood);
    cJSON *coefficients = cJSON_AddArrayToObject(choice, "coefficients");
    for (int i = 0; i < (int)FORECAST_COVARIATE_COUNT; i++) {
        cJSON *entry = cJSON_CreateObject();
        cJSON_AddStringToObject(entry, "name", forecast_covariate_name(i));
        add_number(entry, "estimate", model->fit.coefficients[i]);
        add_number(entry, "error", model->fit.errors[i]);
        add_number(entry, "clustered_error", model->fit.clustered_errors[i]);
        add_item(coefficients, entry);
    }
}

static void add_controls(cJSON *object, const ForecastFindings *findings)
{
    cJSON *controls = cJSON_AddObjectToObject(object, "controls");
    cJSON_AddItemToObject(controls, "rim", odds_object(&findings->rim));
    cJSON_AddItemToObject(controls, "earlier", odds_object(&findings->earlier));
    cJSON *permuted = cJSON_AddObjectToObject(controls, "permuted");
    cJSON_AddNumberToObject(permuted, "seed", FORECAST_SEED);
    cJSON_AddNumberToObject(permuted, "rounds", findings->permuted.rounds);
    add_number(permuted, "mean", findings->permuted.mean);
    add_number(permuted, "low", findings->permuted.range.low);
    add_number(permuted, "high", findings->permuted.range.high);
    add_number(permuted, "p", findings->permuted.p);
}

static void add_loss(cJSON *object, const ForecastLoss *loss)
{
    cJSON *entry = cJSON_AddObjectToObject(object, "log_loss");
    add_count(entry, "n", loss->n);
    for (int i = 0; i < (int)FORECAST_KNOWING_COUNT; i++)
        add_number(entry, forecast_knowing_name(i), loss->loss[i]);
    add_number(entry, "saved", loss->saved);
    add_number(entry, "saved_low", loss->saved_interval.low);
    add_number(entry, "saved_high", loss->saved_interval.high);
}

/* --------------------------------------------------------------------------------------------- searches */

static void add_mean(cJSON *object, const char *name, const ClusteredMean *mean)
{
    cJSON *entry = cJSON_AddObjectToObject(object, name);
    add_number(entry, "estimate", mean->mean);
    add_number(entry, "low", mean->interval.low);
    add_number(entry, "high", mean->interval.high);
}

static void add_price(cJSON *object, const char *name, const ForecastPriceMean *price)
{
    cJSON *entry = cJSON_AddObjectToObject(object, name);
    add_count(entry, "n", price->n);
    add_mean(entry, "centipawns", &price->centipawns);
    add_mean(entry, "chance", &price->chance);
}

static void add_prices(cJSON *object, const ForecastPriceFindings *prices)
{
    cJSON *rows = cJSON_AddArrayToObject(object, "prices");
    for (int i = 0; i < FORECAST_PRICE_ROWS && prices->count > 0; i++) {
        cJSON *entry = cJSON_CreateObject();
        cJSON_AddStringToObject(entry, "id", prices->rows[i].id);
        add_price(entry, "lever", &prices->rows[i].to_lever);
        add_price(entry, "other", &prices->rows[i].to_other);
        add_item(rows, entry);
    }
    cJSON *calibration = cJSON_AddArrayToObject(object, "calibration");
    for (int i = 0; i < FORECAST_CALIBRATION_ROWS; i++) {
        const ForecastCalibration *row = &prices->calibration[i];
        if (row->n == 0)
            continue;
        cJSON *entry = cJSON_CreateObject();
        cJSON_AddStringToObject(entry, "id", row->id);
        add_count(entry, "n", row->n);
        add_mean(entry, "expected", &row->expected);
        add_mean(entry, "observed", &row->observed);
        add_mean(entry, "missed", &row->missed);
        add_number(entry, "slope", row->slope);
        add_number(entry, "slope_error", row->slope_error);
        add_number(entry, "slope_low", row->slope_interval.low);
        add_number(entry, "slope_high", row->slope_interval.high);
        add_item(calibration, entry);
    }
}

static void add_searches(cJSON *object, const ForecastFindings *findings)
{
    const ForecastSettings *settings = &findings->settings;
    const ForecastCounts *counts = &findings->searches[0].counts;
    cJSON *searches = cJSON_AddObjectToObject(object, "searches");
    add_count(searches, "positions", counts->games);
    add_count(searches, "left_out", counts->skipped);
    cJSON_AddBoolToObject(searches, "complete", counts->complete);
    cJSON_AddNumberToObject(searches, "nodes", (double)settings->nodes);
    cJSON_AddNumberToObject(searches, "plies", (double)settings->plies);
    cJSON_AddNumberToObject(searches, "price_nodes", (double)settings->price_nodes);
    cJSON_AddNumberToObject(searches, "playouts", (double)settings->playouts);
    cJSON_AddNumberToObject(searches, "playout_nodes", (double)settings->playout_nodes);
    cJSON_AddNumberToObject(searches, "seed", (double)settings->seed);
    for (int which = 0; which < 2; which++) {
        const char *name = forecast_witness_name((ForecastWitness)(FORECAST_LINES + which));
        cJSON *entry = cJSON_AddObjectToObject(searches, name);
        cJSON *rows = cJSON_AddArrayToObject(entry, "rows");
        forecast_each_cell(&findings->searches[which].counts, add_row, rows);
        cJSON *odds = cJSON_AddArrayToObject(entry, "odds");
        for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++) {
            if (findings->searches[which].odds[i].n == 0)
                continue;
            cJSON *one = odds_object(&findings->searches[which].odds[i]);
            cJSON_DeleteItemFromObject(one, "within");
            cJSON_DeleteItemFromObject(one, "homogeneity");
            add_item(odds, one);
        }
    }
    add_prices(searches, &findings->prices);
}

bool forecast_print_json(const ForecastFindings *findings)
{
    cJSON *object = cJSON_CreateObject();
    add_count(object, "games", findings->counts.games);
    add_count(object, "plies", findings->counts.plies);
    add_count(object, "skipped", findings->counts.skipped);
    cJSON_AddBoolToObject(object, "complete", findings->counts.complete);
    cJSON *rows = cJSON_AddArrayToObject(object, "rows");
    forecast_each_cell(&findings->counts, add_row, rows);
    add_odds(object, findings);
    add_choice(object, &findings->choice);
    add_controls(object, findings);
    cJSON *e = cJSON_AddObjectToObject(object, "e_value");
    add_number(e, "estimate", findings->e_value);
    add_number(e, "interval", findings->e_value_of_interval);
    add_loss(object, &findings->loss);
    if (findings->has_searches)
        add_searches(object, findings);
    return json_print_line(stdout, object);
}
