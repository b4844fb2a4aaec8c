#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/base/parallel.h"
#include "bench/forecast/forecast_json.h"
#include "bench/forecast/forecast_page.h"
#include "bench/forecast/forecast_run.h"
#include "bench/forecast/forecast_searches.h"
#include "bench/forecast/forecast_store.h"
#include "bench/forecast/forecast_tables.h"

#include <stdlib.h>
#include <string.h>

typedef enum InputKind { OF_GAMES, OF_POSITIONS, OF_A_STORE, INPUT_KINDS } InputKind;

/* The inputs of a kind. */
typedef struct Inputs {
    const char **paths;
    int count;
} Inputs;

typedef struct Forecast {
    ForecastEvidence evidence;
    ForecastFindings findings;
    const char *store_path, *html_path, *playable_path;
    bool json, csv, cut;
    PgnCollection collection; /* how it is read, not what */
    ForecastSettings settings;
    Progress progress;
    bool quiet;
    Inputs inputs[INPUT_KINDS];
} Forecast;

static InputKind kind_of(const char *path)
{
    return operand_ends(path, ".epd") ? OF_POSITIONS : forecast_is_store(path) ? OF_A_STORE : OF_GAMES;
}

/* False if memory runs out. */
static bool sort_inputs(Forecast *forecast, char *const *paths, int count)
{
    for (int kind = 0; kind < (int)INPUT_KINDS; kind++) {
        forecast->inputs[kind].paths = calloc((size_t)count + 1, sizeof(char *));
        if (forecast->inputs[kind].paths == NULL)
            return false;
    }
    for (int i = 0; i < count; i++) {
        Inputs *inputs = &forecast->inputs[kind_of(paths[i])];
        inputs->paths[inputs->count++] = paths[i];
    }
    return true;
}

static bool read_games(Forecast *forecast)
{
    OutputFile playable = {0};
    const Inputs *inputs = &forecast->inputs[OF_GAMES];
    if (forecast->playable_path && !output_open(&playable, forecast->playable_path))
        return false;
    ForecastRun run = {.collection = forecast->collection, .playable = playable.stream};
    run.collection.paths = inputs->paths;
    run.collection.path_count = inputs->count;
    progress_start(&forecast->progress, "games", 0, forecast->quiet);
    bool good = inputs->count == 0 || forecast_run(&run, &forecast->evidence.of[FORECAST_GAMES]);
    forecast->cut = run.collection.cut;
    if (forecast->playable_path && good)
        return output_commit(&playable);
    if (forecast->playable_path)
        output_abandon(&playable);
    return good;
}

static bool search_positions(Forecast *forecast)
{
    const Inputs *inputs = &forecast->inputs[OF_POSITIONS];
    const ForecastSearches searches = {.paths = inputs->paths,
                                       .path_count = inputs->count,
                                       .workers = forecast->collection.workers,
                                       .share = forecast->collection.share,
                                       .shares = forecast->collection.shares,
                                       .settings = forecast->settings,
                                       .progress = &forecast->progress};
    progress_start(&forecast->progress, "positions", 0, forecast->quiet);
    bool good = inputs->count == 0 || forecast_search(&searches, &forecast->evidence);
    progress_clear(&forecast->progress);
    return good;
}

static bool read_inputs(Forecast *forecast)
{
    const Inputs *stores = &forecast->inputs[OF_A_STORE];
    for (int i = 0; i < stores->count; i++)
        if (!forecast_store_read(stores->paths[i], &forecast->evidence))
            return false;
    if (!read_games(forecast) || !search_positions(forecast))
        return false;
    if (!forecast_evidence_sort(&forecast->evidence)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    for (int witness = 0; witness < (int)FORECAST_WITNESS_COUNT; witness++) {
        const ForecastData *data = &forecast->evidence.of[witness];
        const ForecastHead *twice = forecast_data_find_double(data);
        if (twice != NULL) {
            complain(data->files[twice->file], 0,
                     "%s %zu is there twice; expected inputs that have none in common",
                     witness == FORECAST_GAMES ? "game" : "the position of line", twice->number);
            return false;
        }
    }
    return true;
}

static bool write_page(const char *path, const ForecastFindings *findings)
{
    OutputFile file;
    bool good = output_open(&file, path);
    if (good) {
        forecast_write_page(file.stream, findings);
        good = output_commit(&file);
    }
    return good;
}

static bool print_findings(const Forecast *forecast)
{
    if (forecast->json && !forecast_print_json(&forecast->findings)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    if (forecast->csv)
        forecast_print_csv(&forecast->findings);
    if (!forecast->json && !forecast->csv)
        forecast_print_text(&forecast->findings);
    return true;
}

static Status run_forecast(Forecast *forecast)
{
    if (forecast->store_path && !forecast_store_may_write(forecast->store_path))
        return STATUS_FAILED;
    bool good = read_inputs(forecast);
    if (good && !forecast_find_all(&forecast->evidence, &forecast->findings)) {
        complain(NULL, 0, "memory ran out");
        good = false;
    }
    good = good && (!forecast->store_path || forecast_store_write(forecast->store_path, &forecast->evidence));
    good = good && (!forecast->html_path || write_page(forecast->html_path, &forecast->findings));
    good = good && print_findings(forecast);
    return good && !forecast->cut ? STATUS_DONE : STATUS_FAILED;
}

/* Says what is wrong with a command line, if anything is. */
static bool makes_sense(Forecast *forecast, const char *share)
{
    const Inputs *games = &forecast->inputs[OF_GAMES], *positions = &forecast->inputs[OF_POSITIONS],
                 *stores = &forecast->inputs[OF_A_STORE];
    if (games->count + positions->count + stores->count == 0)
        complain(
            NULL, 0,
            "forecast: there is no input; expected .pgn files, .epd files, stores, or - for games on the "
            "standard input");
    else if (forecast->json && forecast->csv)
        complain(NULL, 0, "forecast: --json and --csv exclude each other; expected one of them");
    else if (stores->count > 0 && strcmp(share, "1/1") != 0)
        complain(stores->paths[0], 0, "--share does not go with a store; expected games and positions alone");
    else if (forecast->playable_path && games->count == 0)
        complain(NULL, 0, "forecast: --playable has no games to look at; expected .pgn files");
    else if (forecast->settings.playouts > 0 && forecast->settings.price_nodes == 0)
        complain(NULL, 0, "forecast: --playouts needs a price to ask about; expected --price as well");
    else
        return pgn_read_share(share, &forecast->collection);
    return false;
}

Status forecast_command(int argc, char **argv)
{
    int64_t workers = parallel_processors();
    const char *share = "1/1";
    Forecast *forecast = calloc(1, sizeof *forecast);
    if (forecast == NULL) {
        complain(NULL, 0, "memory ran out");
        return STATUS_FAILED;
    }
    ForecastSettings *settings = &forecast->settings;
    *settings = default_forecast_settings;
    const Option options[] = {
        json_option(&forecast->json),
        csv_option(&forecast->csv),
        html_option(&forecast->html_path),
        {.name = "store",
         .argument = "OUT.db",
         .help = "write every row to an SQLite file, which is also an input",
         .text = &forecast->store_path,
         .file = FILE_WRITTEN},
        {.name = "playable",
         .argument = "OUT.epd",
         .help = "write, of each game, the first position in which the named lever could be played",
         .text = &forecast->playable_path,
         .file = FILE_WRITTEN},
        {.name = "nodes",
         .argument = "N",
         .help = "of the search of a position, and of each move behind it",
         .integer = &settings->nodes,
         .least = 100,
         .greatest = INT64_C(1000000000000)},
        {.name = "plies",
         .argument = "N",
         .help = "that the engine plays on from a position",
         .integer = &settings->plies,
         .least = 0,
         .greatest = GAME_PLIES_MAX},
        {.name = "price",
         .argument = "N",
         .help = "nodes of each search for the price of a lever, 0 for none",
         .integer = &settings->price_nodes,
         .least = 0,
         .greatest = INT64_C(1000000000000)},
        {.name = "playouts",
         .argument = "N",
         .help = "positions with a price, the first ones, whose moves are played out",
         .integer = &settings->playouts,
         .least = 0,
         .greatest = INT64_C(1000000000)},
        {.name = "playout-nodes",
         .argument = "N",
         .help = "about so many for a move of these games",
         .integer = &settings->playout_nodes,
         .least = 100,
         .greatest = INT64_C(1000000000)},
        {.name = "seed",
         .argument = "N",
         .help = "of the node counts of these games",
         .integer = &settings->seed,
         .least = 0,
         .greatest = INT64_MAX},
        workers_option(&workers, "threads, one for each processor"),
        share_option(&share, "only every N-th game and position, from the K-th on"),
        quiet_option(&forecast->quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "INPUT... [OPTION]...",
        "Counts whether the first lever came on the wing that the direction of a locked chain named, "
        "and compares games with\n"
        "the same opening. Inputs are PGN files (\"-\" is the standard input), positions in .epd files, of "
        "which searches\n"
        "without the lever term are asked the same, and the files of --store: to join shares, give all of "
        "these. Broken games\n"
        "are reported and left out. Status 1 if a file ends within a game."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status)) {
        free(forecast);
        return status;
    }
    forecast->collection.workers = (int)workers;
    forecast->collection.progress = &forecast->progress;
    status = STATUS_FAILED;
    if (!sort_inputs(forecast, argv, argc))
        complain(NULL, 0, "memory ran out");
    else
        status = makes_sense(forecast, share) ? run_forecast(forecast) : STATUS_MISUSED;
    forecast_evidence_free(&forecast->evidence);
    for (int kind = 0; kind < (int)INPUT_KINDS; kind++)
        free(forecast->inputs[kind].paths);
    free(forecast);
    return status;
}
