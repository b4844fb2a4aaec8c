#include "bench/census/census_page.h"
#include "bench/base/array.h"
#include "bench/base/statistics.h"
#include "bench/census/census_tables.h"
#include "bench/page/chart.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

/* ------------------------------------------------------------------------------------ the games behind them */

/* A number that has been written, and that leads to games. */
typedef struct Link {
    const CensusExampleSet *set;
    char words[256];
} Link;

/* Tables whose numbers lead to games. */
typedef struct Linked {
    PageTable table;
    TableSink plain;
    const CensusExamples *examples;
    const char *title;
    char row[128]; /* the words of the present row */
    size_t count, capacity;
    Link *links;
    bool memory_ran_out;
} Linked;

static void begin_table(void *context, const char *id, const char *title, const char *note,
                        const PageColumn *columns, int column_count)
{
    Linked *linked = context;
    linked->title = title;
    linked->plain.begin(linked->plain.context, id, title, note, columns, column_count);
}

static void add_cell(void *context, const char *text)
{
    Linked *linked = context;
    const PageTable *table = &linked->table;
    size_t length = table->cell == 0 ? 0 : strlen(linked->row);
    if (!table->columns[table->cell].numeric)
        snprintf(linked->row + length, sizeof linked->row - length, "%s%s", length ? ", " : "", text);
    linked->plain.cell(linked->plain.context, text);
}

static void end_table(void *context)
{
    Linked *linked = context;
    linked->plain.end(linked->plain.context);
}

static void write_id(int id, char text[32])
{
    snprintf(text, 32, "games-%d", id);
}

static void add_named(void *context, const char *name, const char *text)
{
    Linked *linked = context;
    const CensusExampleSet *set = census_examples_find(linked->examples, name);
    char target[34] = "#";
    if (set != NULL && array_reserve(linked->links, linked->capacity, linked->count, 1)) {
        Link *link = &linked->links[linked->count++];
        link->set = set;
        snprintf(link->words, sizeof link->words, "%s: %s, %s", linked->title, linked->row,
                 linked->table.columns[linked->table.cell].heading);
        write_id(set->id, target + 1);
        linked->table.link = target;
    } else if (set != NULL) {
        linked->memory_ran_out = true;
    }
    add_cell(linked, text);
}

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void write_example(FILE *out, const CensusExample *example)
{
    const char *file = base_name(example->file);
    char name[256];
    if (example->moment.ply == 0) {
        page_paragraph(out, PAGE_NOTE, "%s, game %zu", file, example->game);
        return;
    }
    snprintf(name, sizeof name, "%s, game %zu, after %s", file, example->game, example->moment.move);
    page_code(out, name, example->moment.fen);
}

/* What prints all of them. */
static void write_command(FILE *out, const CensusExampleSet *set)
{
    char command[CENSUS_NAME_SIZE + 64];
    snprintf(command, sizeof command, "pawnvane-bench census --list \"%s\"", set->name);
    page_code(out, "All of them, behind the names of the files", command);
}

static void write_games(FILE *out, const Link *link)
{
    const CensusExampleSet *set = link->set;
    bool all = set->games == (size_t)set->count;
    char id[32];
    write_id(set->id, id);
    page_fold_begin(out, id, all ? "%s: %zu" : "%s: %zu, the first %d", link->words, set->games, set->count);
    for (int i = 0; i < set->count; i++)
        write_example(out, &set->items[i]);
    if (!all)
        write_command(out, set);
    page_fold_end(out);
}

static void write_all_games(FILE *out, const Linked *linked)
{
    if (linked->count == 0)
        return;
    page_heading(out, 2, "games", "The games behind the numbers");
    page_paragraph(
        out, PAGE_NOTE,
        "Every number of games or sides above leads to some of them, each with the move after which it "
        "shows, and the position.");
    page_fold_begin(out, "all-games", "All %zu numbers", linked->count);
    for (size_t i = 0; i < linked->count; i++)
        write_games(out, &linked->links[i]);
    page_fold_end(out);
}

bool census_write_page(FILE *out, const CensusTotals *totals, const CensusExamples *examples)
{
    size_t de = census_de_games(totals);
    char subtitle[160];
    Linked linked = {.table.out = out, .examples = examples};
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
    linked.plain = page_table_sink(&linked.table);
    const TableSink sink = {&linked, false, begin_table, add_cell, add_named, end_table};
    bool good = census_write_tables(totals, true, &sink) && !linked.memory_ran_out;
    write_all_games(out, &linked);
    page_end(out, "Counted over the main lines of the games; files count if they are locked after any ply.");
    free(linked.links);
    return good;
}
