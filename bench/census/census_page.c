#include "bench/census/census_page.h"
#include "bench/base/statistics.h"
#include "bench/census/census_tables.h"
#include "bench/page/chart.h"

static ChartValue percent(const char *label, size_t count, size_t whole)
{
    Interval interval = wilson_interval(count, whole, 0.95);
    double share = whole ? 100.0 * (double)count / (double)whole : 0;
    return (ChartValue){.label = label,
                        .estimate = share,
                        .low = 100 * interval.low,
                        .high = 100 * interval.high,
                        .count = whole};
}

static void draw_pairs(FILE *out, const CensusTotals *totals)
{
    ChartValue values[CENSUS_PAIR_COUNT];
    for (int file = 0; file < CENSUS_PAIR_COUNT; file++)
        values[file] = percent(ps_files_name(file, file + 1), totals->reached[file], totals->games);
    chart_bars(out,
               &(Chart){.id = "chart-pairs",
                        .title = "How often neighbouring files are locked",
                        .item = "Files",
                        .value = "Percent of games",
                        .decimals = 1},
               values, CENSUS_PAIR_COUNT);
}

static void draw_results(FILE *out, const CensusTotals *totals)
{
    static const char *const labels[2][2] = {{"White, lever not played", "White, lever played"},
                                             {"Black, lever not played", "Black, lever played"}};
    ChartValue values[4];
    size_t games = 0;
    for (int i = 0; i < 4; i++) {
        int side = i / 2, played = 1 - i % 2;
        const CensusResults *r = &totals->results[side][played];
        values[i] = percent(labels[side][played], r->won, r->won + r->drawn + r->lost);
        games += values[i].count;
    }
    if (games == 0)
        return;
    chart_forest(out,
                 &(Chart){.id = "chart-results",
                          .title = "Games won by the side, base lever played soon or not",
                          .item = "Side",
                          .value = "Percent won",
                          .count = "Games",
                          .caption = census_warning,
                          .decimals = 1,
                          .reference = 50},
                 values, 4);
}

void census_write_page(FILE *out, const CensusTotals *totals)
{
    size_t de = census_de_games(totals);
    char subtitle[160];
    PageTable table = {.out = out};
    snprintf(subtitle, sizeof subtitle, "%zu games, %zu left out as broken, %llu plies", totals->games,
             totals->skipped, (unsigned long long)totals->plies);
    page_begin(out, "Census of locked pawn chains", subtitle, "Census of locked pawn chains");
    chart_definitions(out);
    if (totals->games > 0)
        page_paragraph(out, PAGE_LEAD, "%zu of %zu games (%.1f percent) reach a locked chain on d and e.", de,
                       totals->games, 100.0 * (double)de / (double)totals->games);
    page_paragraph(out, PAGE_NOTE, "%s", census_warning);
    if (totals->games > 0) {
        draw_pairs(out, totals);
        draw_results(out, totals);
    }
    TableSink sink = page_table_sink(&table);
    census_write_tables(totals, true, &sink);
    page_end(out, "Counted over the main lines of the games; files count if they are locked after any ply.");
}
