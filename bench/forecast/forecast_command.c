#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/base/parallel.h"
#include "bench/forecast/forecast_json.h"
#include "bench/forecast/forecast_page.h"
#include "bench/forecast/forecast_run.h"
#include "bench/forecast/forecast_store.h"
#include "bench/forecast/forecast_tables.h"
#include "bench/pgn/pgn_survey.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

typedef struct Forecast {
    ForecastData data;
    ForecastFindings findings;
    const char *store_path, *html_path;
    bool json, csv;
    ForecastRun run;
} Forecast;

/* Sorts the inputs: games to the front, stores behind them. Returns how many are games. */
static int sort_inputs(const char **paths, int count)
{
    int games = 0;
    for (int i = 0; i < count; i++) {
        if (forecast_is_store(paths[i]))
            continue;
        const char *path = paths[i];
        memmove(&paths[games + 1], &paths[games], (size_t)(i - games) * sizeof *paths);
        paths[games++] = path;
    }
    return games;
}

static bool read_inputs(Forecast *forecast, const char *const *stores, int store_count)
{
    for (int i = 0; i < store_count; i++)
        if (!forecast_store_read(stores[i], &forecast->data))
            return false;
    if (forecast->run.path_count > 0 && !forecast_run(&forecast->run, &forecast->data))
        return false;
    if (!forecast_data_sort(&forecast->data)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    const ForecastHead *twice = forecast_data_find_double(&forecast->data);
    if (twice != NULL) {
        complain(forecast->data.files[twice->file], 0,
                 "game %zu is there twice; expected inputs that have no game in common", twice->number);
        return false;
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

static Status run_forecast(Forecast *forecast, const char *const *stores, int store_count)
{
    if (forecast->store_path && !forecast_store_may_write(forecast->store_path))
        return STATUS_FAILED;
    bool good = read_inputs(forecast, stores, store_count);
    progress_clear(forecast->run.progress);
    if (good && !forecast_find(&forecast->data, &forecast->findings)) {
        complain(NULL, 0, "memory ran out");
        good = false;
    }
    good = good && (!forecast->store_path || forecast_store_write(forecast->store_path, &forecast->data));
    good = good && (!forecast->html_path || write_page(forecast->html_path, &forecast->findings));
    good = good && print_findings(forecast);
    return good && !forecast->run.cut ? STATUS_DONE : STATUS_FAILED;
}

Status forecast_command(int argc, char **argv)
{
    int64_t workers = parallel_processors();
    const char *share = "1/1";
    bool quiet = false;
    Progress progress;
    Forecast *forecast = calloc(1, sizeof *forecast);
    if (forecast == NULL) {
        complain(NULL, 0, "memory ran out");
        return STATUS_FAILED;
    }
    const Option options[] = {
        {.name = "json", .help = "print one JSON object", .flag = &forecast->json},
        {.name = "csv", .help = "print the tables as comma-separated values", .flag = &forecast->csv},
        {.name = "html",
         .argument = "OUT",
         .help = "write a page",
         .text = &forecast->html_path,
         .file = FILE_WRITTEN},
        {.name = "store",
         .argument = "OUT.db",
         .help = "write every row to an SQLite file, which is also an input",
         .text = &forecast->store_path,
         .file = FILE_WRITTEN},
        workers_option(&workers, "threads, one for each processor"),
        {.name = "share",
         .argument = "K/N",
         .help = "only every N-th game, from the K-th on",
         .text = &share},
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "INPUT... [OPTION]...",
        "Counts whether the first lever came on the wing that the direction of a locked chain named, "
        "and compares games with\n"
        "the same opening. Inputs are PGN files (\"-\" is the standard input) and the files of --store: "
        "to join shares, give\n"
        "all of these. Broken games are reported and left out. Status 1 if a file ends within a game."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status)) {
        free(forecast);
        return status;
    }
    status = STATUS_MISUSED;
    int games = sort_inputs((const char **)argv, argc);
    forecast->run = (ForecastRun){.paths = (const char *const *)argv,
                                  .path_count = games,
                                  .workers = (int)workers,
                                  .progress = &progress};
    if (argc == 0)
        complain(NULL, 0,
                 "forecast: there is no input; expected .pgn files, stores, or - for the standard input");
    else if (forecast->json && forecast->csv)
        complain(NULL, 0, "forecast: --json and --csv exclude each other; expected one of them");
    else if (games < argc && strcmp(share, "1/1") != 0)
        complain(argv[games], 0, "--share does not go with a store; expected games alone");
    else if (pgn_read_share(share, &forecast->run.share, &forecast->run.shares)) {
        progress_start(&progress, "games", 0, quiet);
        status = run_forecast(forecast, (const char *const *)argv + games, argc - games);
    }
    forecast_data_free(&forecast->data);
    free(forecast);
    return status;
}
