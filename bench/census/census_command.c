#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/base/interrupt.h"
#include "bench/base/output_file.h"
#include "bench/base/parallel.h"
#include "bench/census/census_list.h"
#include "bench/census/census_page.h"
#include "bench/census/census_positions.h"
#include "bench/census/census_print.h"
#include "bench/census/census_run.h"
#include "bench/census/census_store.h"

#include <stdio.h>
#include <stdlib.h>

typedef struct Census {
    CensusTotals totals;
    Progress progress;
    CensusExamples examples;
    const char *positions_path, *store_path, *html_path;
    const char *list; /* null: none */
    size_t listed;
    bool print_games;
    CensusPositions positions;
    CensusStore store;
} Census;

static bool use_game(void *context, const char *file, const CensusGame *game)
{
    Census *census = context;
    if (interrupt_number())
        return false;
    if (!census_totals_add(&census->totals, game) ||
        (census->html_path && !census_examples_add(&census->examples, file, game))) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    if (census->list)
        census->listed += census_list(stdout, census->list, file, game);
    if (census->print_games && !census_print_game(file, game)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    if (census->positions_path && !census_positions_add(&census->positions, file, game))
        return false;
    return !census->store_path || census_store_add(&census->store, file, game);
}

static bool write_page(const char *path, const Census *census)
{
    OutputFile file;
    bool good = output_open(&file, path);
    if (good) {
        good = census_write_page(file.stream, &census->totals, &census->examples);
        if (!good)
            complain(path, 0, "memory ran out");
        if (good)
            good = output_commit(&file);
        else
            output_abandon(&file);
    }
    return good;
}

/* Opens what games are written to while they are read. */
static bool open_outputs(Census *census)
{
    if (census->positions_path && !census_positions_open(&census->positions, census->positions_path))
        return false;
    if (census->store_path && !census_store_open(&census->store, census->store_path)) {
        if (census->positions_path)
            census_positions_abandon(&census->positions);
        return false;
    }
    return true;
}

/* Puts everything in its place, or nothing if the survey is not complete. */
static bool close_outputs(Census *census, bool complete)
{
    bool good = complete;
    if (census->store_path && complete)
        good &= census_store_commit(&census->store);
    else if (census->store_path)
        census_store_abandon(&census->store);
    if (census->positions_path && complete)
        good &= census_positions_commit(&census->positions);
    else if (census->positions_path)
        census_positions_abandon(&census->positions);
    if (census->html_path && complete)
        good &= write_page(census->html_path, census);
    return good;
}

static bool print_totals(const Census *census, bool json, bool csv)
{
    bool good = true;
    if (census->list && census->listed == 0) {
        complain(NULL, 0,
                 "--list is \"%s\": no game counts there; expected the name of a number, as pairs/de, or the "
                 "beginning of one, as pairs",
                 census->list);
        return false;
    }
    if (json)
        good = census_print_json(&census->totals);
    else if (csv)
        good = census_print_csv(&census->totals);
    else if (!census->print_games && !census->list)
        good = census_print_text(&census->totals);
    if (!good)
        complain(NULL, 0, "memory ran out");
    return good;
}

static Status run_census(Census *census, CensusRun *run, bool json, bool csv)
{
    if (census->store_path)
        interrupt_catch(); /* or else its journal would stay */
    if (!open_outputs(census))
        return STATUS_FAILED;
    run->context = census;
    run->game = use_game;
    run->wants_opening = census->print_games || census->store_path;
    run->wants_fen = census->positions_path != NULL;
    run->wants_moments = census->list || census->html_path;
    if (census->list)
        census_list_head(stdout);
    bool complete = census_run(run);
    census->totals.skipped = run->collection.skipped;
    bool good = close_outputs(census, complete) && print_totals(census, json, csv);
    return good && !run->collection.cut ? STATUS_DONE : STATUS_FAILED;
}

/* Those that stand there already do not get less than they were to have. */
static void keep_complete_files(Census *census)
{
    const char **paths[] = {&census->positions_path, &census->store_path, &census->html_path};
    for (size_t i = 0; i < sizeof paths / sizeof *paths; i++) {
        if (!inputs_allow_partial(*paths[i]))
            *paths[i] = NULL;
    }
}

Status census_command(int argc, char **argv)
{
    int64_t workers = parallel_processors();
    const char *share = "1/1";
    bool json = false, csv = false, quiet = false;
    Census *census = calloc(1, sizeof *census);
    if (census == NULL) {
        complain(NULL, 0, "memory ran out");
        return STATUS_FAILED;
    }
    const Option options[] = {
        json_option(&json),
        csv_option(&csv),
        {.name = "games",
         .help = "print a JSON object for each game, one a line",
         .flag = &census->print_games},
        html_option(&census->html_path),
        {.name = "list",
         .argument = "NUMBER",
         .help =
             "print the games behind that number, as pairs/de, or all that begin so: file, game, move, FEN",
         .text = &census->list},
        {.name = "store",
         .argument = "SURVEY.db",
         .help = "write a row for each game to an SQLite file",
         .text = &census->store_path,
         .file = FILE_WRITTEN},
        {.name = "positions",
         .argument = "OUT.epd",
         .help = "write the first locked position of each game",
         .text = &census->positions_path,
         .file = FILE_WRITTEN},
        workers_option(&workers, "threads, one for each processor"),
        share_option(&share, "only every N-th game, from the K-th on"),
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {"FILE.pgn... [OPTION]...",
                                "Counts how often pawn chains lock in games, where, and what was done about "
                                "them. \"-\" is the standard\n"
                                "input. Broken games are reported and left out; the rest counts. Status 1 if "
                                "a file ends within a game."};
    Status status;
    CensusRun run = {0};
    if (!command_line_read(&usage, options, &argc, &argv, &status)) {
        free(census);
        return status;
    }
    run.collection.workers = (int)workers;
    run.collection.progress = &census->progress;
    status = STATUS_MISUSED;
    if (argc == 0)
        complain(NULL, 0, "census: there is no input; expected .pgn files, or - for the standard input");
    else if (json + csv + census->print_games + (census->list != NULL) > 1)
        complain(NULL, 0,
                 "census: --json, --csv, --games and --list exclude each other; expected one of them");
    else if (pgn_read_share(share, &run.collection)) {
        run.collection.paths = (const char *const *)argv;
        run.collection.path_count = inputs_sift(argv, argc);
        bool whole = run.collection.path_count == argc;
        if (!whole && run.collection.path_count > 0)
            keep_complete_files(census);
        progress_start(&census->progress, "games", 0, quiet);
        status = run.collection.path_count == 0 ? STATUS_FAILED : run_census(census, &run, json, csv);
        if (!whole && status == STATUS_DONE)
            status = STATUS_FAILED;
    }
    census_examples_free(&census->examples);
    census_totals_free(&census->totals);
    free(census);
    return status;
}
