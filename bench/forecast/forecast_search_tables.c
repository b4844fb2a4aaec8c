#include "bench/forecast/forecast_tables.h"

#include <math.h>

static void percent(const TableSink *sink, const ClusteredMean *mean)
{
    table_number(sink, 1, 100 * mean->mean);
    table_range(sink, 1, 100 * mean->interval.low, 100 * mean->interval.high);
}

static void price_cells(const TableSink *sink, const ForecastPriceMean *mean)
{
    table_cell(sink, "%zu", mean->n);
    table_number(sink, 1, mean->centipawns.mean);
    table_range(sink, 1, mean->centipawns.interval.low, mean->centipawns.interval.high);
    percent(sink, &mean->chance);
}

static void write_prices(const ForecastPriceFindings *prices, const TableSink *sink)
{
    static const PageColumn columns[] = {
        {"Against; which levers", false}, {"Positions", true}, {"Centipawns", true},
        {"95 % interval", true},          {"Chance, %", true}, {"Chance 95 %", true}};
    TABLE_BEGIN(sink, "price", "What the named lever gains (+) or costs (-) where it can be played now",
                "Each move searched alone, to the same depth, without the lever term; chance: winning "
                "chances, a draw being "
                "half a win. Intervals as if positions were independent.",
                columns);
    for (int other = 0; other < 2; other++) {
        for (int i = 0; i < FORECAST_PRICE_ROWS; i++) {
            const ForecastPriceRow *row = &prices->rows[i];
            const ForecastPriceMean *mean = other ? &row->to_other : &row->to_lever;
            if (mean->n == 0)
                continue;
            const char *against = other ? "no lever" : "other lever";
            table_cell(sink, sink->by_name ? "%s/%s" : "%s; %s", against,
                       sink->by_name ? row->id : row->name);
            price_cells(sink, mean);
        }
    }
    sink->end(sink->context);
}

static void write_calibration(const ForecastPriceFindings *prices, const TableSink *sink)
{
    static const PageColumn columns[] = {
        {"Which levers", false}, {"Positions", true},  {"Expected, %", true}, {"Expected 95 %", true},
        {"In games, %", true},   {"Games 95 %", true}, {"Missed, %", true},   {"Missed 95 %", true},
        {"Slope", true},         {"Slope 95 %", true}};
    TABLE_BEGIN(sink, "calibration", "Do games bear the searches out?",
                "The lever and the best other move, both played out by the engine without the term: points "
                "that the lever "
                "brought more, beside what the searches expected. Slope: of games on searches, 1 if the "
                "searches are right.",
                columns);
    for (int i = 0; i < FORECAST_CALIBRATION_ROWS; i++) {
        const ForecastCalibration *row = &prices->calibration[i];
        if (row->n == 0)
            continue;
        table_cell(sink, "%s", sink->by_name ? row->id : row->name);
        table_cell(sink, "%zu", row->n);
        percent(sink, &row->expected);
        percent(sink, &row->observed);
        percent(sink, &row->missed);
        table_number(sink, 2, row->slope);
        table_range(sink, 2, row->slope_interval.low, row->slope_interval.high);
    }
    sink->end(sink->context);
}

static void write_odds(const ForecastFindings *findings, const TableSink *sink)
{
    static const PageColumn columns[] = {{"Asked; moment; verdict; side", false},
                                         {"Sides", true},
                                         {"On the named wing", true},
                                         {"Odds ratio", true},
                                         {"95 % interval", true}};
    TABLE_BEGIN(sink, "search-odds", "Odds ratios of searches",
                "As for games, raw: positions have no opening in common.", columns);
    for (int which = 0; which < 2; which++) {
        for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++) {
            const ForecastOdds *odds = &findings->searches[which].odds[i];
            char name[FORECAST_ODDS_NAME_SIZE];
            if (odds->n == 0)
                continue;
            forecast_odds_name(odds, sink->by_name, name);
            table_cell(sink, sink->by_name ? "%s/%s" : "%s; %s",
                       forecast_witness_name((ForecastWitness)(FORECAST_LINES + which)), name);
            table_cell(sink, "%zu", odds->n);
            table_cell(sink, "%.0f", odds->table[0][0] + odds->table[1][1]);
            table_number(sink, 2, odds->raw.estimate);
            table_range(sink, 2, odds->raw.interval.low, odds->raw.interval.high);
        }
    }
    sink->end(sink->context);
}

void forecast_write_search_tables(const ForecastFindings *findings, const TableSink *sink)
{
    write_odds(findings, sink);
    if (findings->prices.count > 0)
        write_prices(&findings->prices, sink);
    if (findings->prices.calibration[0].n > 0)
        write_calibration(&findings->prices, sink);
}
