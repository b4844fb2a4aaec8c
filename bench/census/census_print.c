#include "bench/census/census_print.h"
#include "bench/base/json_line.h"
#include "bench/census/census_tables.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>

/* ------------------------------------------------------------------------------------------- for people */

bool census_print_text(const CensusTotals *totals)
{
    TextTable table;
    printf("%zu games, %zu left out, %llu plies; %zu games reach a locked chain on d and e", totals->games,
           totals->skipped, (unsigned long long)totals->plies, census_de_games(totals));
    if (census_de_games(totals) > 0)
        printf(", at ply %.1f on average", (double)totals->first_de_plies / (double)census_de_games(totals));
    puts("");
    TableSink sink = text_table_sink(&table);
    bool good = census_write_tables(totals, false, &sink);
    printf(
        "\n%s\n\nAll openings and years are in --csv and --html; --list prints the games behind a number.\n",
        census_warning);
    return good;
}

/* ----------------------------------------------------------------------------------------------- as CSV */

static void csv_number(const char *name, unsigned long long number)
{
    printf("all,all,%s,%llu\n", name, number);
}

bool census_print_csv(const CensusTotals *totals)
{
    CsvTable table;
    puts("table,row,column,value");
    csv_number("Games", totals->games);
    csv_number("Left out", totals->skipped);
    csv_number("Plies", totals->plies);
    TableSink sink = csv_table_sink(&table);
    return census_write_tables(totals, true, &sink);
}

/* ---------------------------------------------------------------------------------------------- as JSON */

static void add_count(cJSON *object, const char *name, uint64_t count)
{
    cJSON_AddNumberToObject(object, name, (double)count);
}

static void add_by_side(cJSON *object, const char *name, const size_t counts[2])
{
    cJSON *by_side = cJSON_AddObjectToObject(object, name);
    for (int side = PS_WHITE; side <= PS_BLACK; side++)
        add_count(by_side, ps_side_name(side), counts[side]);
}

static void add_first_de(cJSON *object, const CensusTotals *totals)
{
    cJSON *first = cJSON_AddObjectToObject(object, "first_de");
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        cJSON *classes = cJSON_AddObjectToObject(first, ps_side_name(side));
        for (int verdict = 0; verdict < PS_VERDICT_COUNT; verdict++) {
            for (int status = 0; status < CENSUS_STATUS_COUNT; status++) {
                char name[32];
                if (totals->first_de[side][verdict][status] == 0)
                    continue;
                snprintf(name, sizeof name, "%s/%s", ps_verdict_name(verdict), census_status_name(status));
                add_count(classes, name, totals->first_de[side][verdict][status]);
            }
        }
    }
}

static void add_opening(cJSON *object, const char *name, const CensusOpening *opening)
{
    if (opening->games == 0)
        return;
    cJSON *counts = cJSON_AddObjectToObject(object, name);
    add_count(counts, "games", opening->games);
    add_count(counts, "any", opening->any);
    add_count(counts, "de", opening->de);
}

static bool add_openings(cJSON *object, const CensusTotals *totals)
{
    char name[CENSUS_LINE_SIZE];
    cJSON *codes = cJSON_AddObjectToObject(object, "openings");
    for (int eco = 0; eco < CENSUS_ECO_COUNT; eco++) {
        census_eco_text(eco, name);
        add_opening(codes, name, &totals->openings[eco]);
    }
    CensusLine *sorted = census_lines_sorted(&totals->lines);
    cJSON *lines = cJSON_AddObjectToObject(object, "first_moves");
    for (size_t i = 0; sorted != NULL && i < totals->lines.count; i++) {
        census_line_text(sorted[i].first_moves, name);
        add_opening(lines, name, &sorted[i].opening);
    }
    cJSON *years = cJSON_AddObjectToObject(object, "years");
    for (int i = 0; i < CENSUS_YEAR_COUNT; i++) {
        snprintf(name, sizeof name, "%d", CENSUS_YEAR_FROM + i);
        add_opening(years, name, &totals->years[i]);
    }
    cJSON *ratings = cJSON_AddObjectToObject(object, "ratings");
    for (int band = 0; band < RATING_BAND_COUNT; band++)
        add_opening(ratings, rating_band_names[band], &totals->ratings[band]);
    bool good = sorted != NULL;
    free(sorted);
    return good;
}

static void add_near_misses(cJSON *object, const CensusTotals *totals)
{
    cJSON *games = cJSON_AddObjectToObject(object, "near_misses");
    cJSON *lasting = cJSON_AddObjectToObject(object, "near_misses_lasting");
    cJSON *common = cJSON_AddArrayToObject(object, "near_misses_common");
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        const char *name = ps_near_miss_name(i);
        add_count(games, name, totals->near_misses[i]);
        add_count(lasting, name, totals->lasting[i]);
        if (census_is_common(totals->near_misses[i], totals->games))
            cJSON_AddItemToArray(common, cJSON_CreateString(name));
    }
}

bool census_print_json(const CensusTotals *totals)
{
    cJSON *object = cJSON_CreateObject();
    add_count(object, "games", totals->games);
    add_count(object, "skipped", totals->skipped);
    add_count(object, "plies", totals->plies);
    cJSON *reached = cJSON_AddObjectToObject(object, "reached");
    for (int file = 0; file < CENSUS_PAIR_COUNT; file++)
        add_count(reached, ps_files_name(file, file + 1), totals->reached[file]);
    add_first_de(object, totals);
    add_by_side(object, "base_lever_played", totals->base_lever_played);
    add_by_side(object, "head_lever_played", totals->head_lever_played);
    add_near_misses(object, totals);
    cJSON *strata = cJSON_AddObjectToObject(object, "strata");
    for (int i = 0; i < STRATUM_COUNT; i++)
        add_count(strata, stratum_names[i], totals->strata[i]);
    add_count(strata, "other", totals->strata[STRATUM_OTHER]);
    cJSON *first = cJSON_AddObjectToObject(object, "first");
    static const char *const names[CENSUS_FIRST_COUNT] = {"white", "black", "neither"};
    for (int i = 0; i < CENSUS_FIRST_COUNT; i++)
        add_count(first, names[i], totals->first[i]);
    bool good = add_openings(object, totals);
    return json_print_line(stdout, object) && good;
}

static void add_text(cJSON *object, const char *name, const char *text)
{
    if (text != NULL)
        cJSON_AddStringToObject(object, name, text);
    else
        cJSON_AddNullToObject(object, name);
}

static void add_square(cJSON *object, const char *name, int square)
{
    add_text(object, name, square == PS_NO_SQUARE ? NULL : ps_square_name(square));
}

static void add_ply(cJSON *object, const char *name, int ply)
{
    if (ply > 0)
        cJSON_AddNumberToObject(object, name, ply);
    else
        cJSON_AddNullToObject(object, name);
}

static void add_first_moment(cJSON *object, const CensusGame *game)
{
    if (game->de_ply == 0) {
        cJSON_AddNullToObject(object, "first_de");
        return;
    }
    cJSON *first = cJSON_AddObjectToObject(object, "first_de");
    cJSON_AddNumberToObject(first, "ply", game->de_ply);
    add_text(first, "first_to_break",
             game->first_to_break == PS_NOBODY ? NULL : ps_side_name(game->first_to_break));
    for (int i = PS_WHITE; i <= PS_BLACK; i++) {
        const CensusSide *side = &game->side[i];
        cJSON *entry = cJSON_AddObjectToObject(first, ps_side_name(i));
        add_text(entry, "verdict", ps_verdict_name(side->verdict));
        add_text(entry, "status", side->status == PS_NO_STATUS ? NULL : ps_status_name(side->status));
        add_square(entry, "base_lever", side->base_lever);
        add_square(entry, "head_lever", side->head_lever);
        add_ply(entry, "base_played", side->base_ply);
        add_ply(entry, "head_played", side->head_ply);
    }
}

bool census_print_game(const char *file, const CensusGame *game)
{
    cJSON *object = cJSON_CreateObject();
    char eco[CENSUS_ECO_SIZE];
    if (game->eco >= 0)
        census_eco_text(game->eco, eco);
    add_text(object, "file", file);
    add_count(object, "game", game->number);
    add_count(object, "line", game->line);
    cJSON_AddNumberToObject(object, "plies", game->plies);
    add_text(object, "result", pgn_result_texts[game->result]);
    add_text(object, "eco", game->eco < 0 ? NULL : eco);
    add_text(object, "opening", game->opening);
    cJSON *reached = cJSON_AddArrayToObject(object, "reached");
    for (int pair = 0; pair < CENSUS_PAIR_COUNT; pair++)
        if (game->pairs & 1U << pair)
            cJSON_AddItemToArray(reached, cJSON_CreateString(ps_files_name(pair, pair + 1)));
    cJSON *near_misses = cJSON_AddArrayToObject(object, "near_misses");
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        if (game->near_misses & 1U << i)
            cJSON_AddItemToArray(near_misses, cJSON_CreateString(ps_near_miss_name(i)));
    add_first_moment(object, game);
    return json_print_line(stdout, object);
}
