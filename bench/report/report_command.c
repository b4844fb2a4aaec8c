#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/report/report_output.h"
#include "bench/report/report_page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct ReportRun {
    const char *html, *title, *weights_path;
    Questions questions;
    StratumWeights weights; /* if there is a path */
    bool json, csv;
    int run_count, contrast_count;
    StoredRun *runs;         /* room for one a file */
    ReadContrast *contrasts; /* the same */
} ReportRun;

/* A run is an SQLite file (https://www.sqlite.org/fileformat.html, section 1.3.1); a contrast is text. */
static bool is_run(const char *path)
{
    static const char magic[16] = "SQLite format 3";
    char head[sizeof magic] = "";
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return false;
    bool same = fread(head, 1, sizeof head, file) == sizeof head && memcmp(head, magic, sizeof magic) == 0;
    fclose(file);
    return same;
}

static bool read_run(StoredRun *run, const char *path)
{
    Database database;
    bool good = stored_run_open(&database, path) && stored_run_read(run, &database);
    database_close(&database);
    return good;
}

static bool read_file(ReportRun *report, const char *path)
{
    if (is_run(path))
        return read_run(&report->runs[report->run_count++], path);
    return contrast_read_file(&report->contrasts[report->contrast_count++], path);
}

static bool write_page(const Report *report, const ReportRun *options)
{
    OutputFile file;
    if (!output_open(&file, options->html))
        return false;
    report_write_page(file.stream, report, options->title);
    return output_commit(&file);
}

static bool write_report(const ReportRun *options)
{
    Report report;
    bool good = report_make(&report, options->runs, options->run_count, &options->questions,
                            options->weights_path != NULL ? &options->weights : NULL, options->contrasts,
                            options->contrast_count);
    if (good && options->csv)
        report_write_csv(stdout, &report);
    if (good && options->json)
        good = report_write_json(stdout, &report);
    if (good && !options->csv && !options->json && options->html == NULL)
        report_write_text(stdout, &report);
    if (!good)
        complain(NULL, 0, "memory ran out");
    else if (options->html != NULL)
        good = write_page(&report, options);
    report_free(&report);
    return good;
}

static bool read_weights(ReportRun *report)
{
    if (report->weights_path == NULL)
        return true;
    bool good = stratum_weights_read(&report->weights, report->weights_path);
    for (int i = 0; good && i < report->run_count; i++)
        good = stratum_weights_fit(&report->weights, &report->runs[i], report->weights_path);
    return good;
}

static bool read_and_write(ReportRun *report, char *const *paths, int count)
{
    report->runs = calloc((size_t)count, sizeof *report->runs);
    report->contrasts = calloc((size_t)count, sizeof *report->contrasts);
    bool good = report->runs != NULL && report->contrasts != NULL;
    if (!good)
        complain(NULL, 0, "memory ran out");
    for (int i = 0; good && i < count; i++)
        good = read_file(report, paths[i]);
    if (good && report->run_count == 0) {
        complain(
            NULL, 0,
            "report: there is no run among the files; expected at least one that duel or sweep has written");
        good = false;
    }
    good = good && read_weights(report) && write_report(report);
    stratum_weights_free(&report->weights);
    for (int i = 0; i < report->run_count; i++)
        stored_run_free(&report->runs[i]);
    for (int i = 0; i < report->contrast_count; i++)
        read_contrast_free(&report->contrasts[i]);
    free(report->runs);
    free(report->contrasts);
    return good;
}

Status report_command(int argc, char **argv)
{
    ReportRun report = {.title = "What the lever term is worth"};
    const Option options[] = {
        {.name = "html",
         .argument = "OUT",
         .help = "write a page",
         .text = &report.html,
         .file = FILE_WRITTEN},
        {.name = "title", .argument = "TEXT", .help = "its title", .text = &report.title},
        {.name = "weights",
         .argument = "FILE",
         .help = "how often each stratum occurs: of census --json, or lines",
         .text = &report.weights_path},
        questions_effect_option(&report.questions),
        questions_margin_option(&report.questions),
        {.name = "json", .help = "print the numbers as one JSON object", .flag = &report.json},
        {.name = "csv", .help = "print them as CSV, a line a match and stratum", .flag = &report.csv},
        {.file = FILE_READ},
    };
    static const Usage usage = {"RUN.db... [CONTRAST.json...] [OPTION]...",
                                "Reports what runs of duel and sweep have shown, and what contrast --json "
                                "has written: as tables, or as asked. There are no "
                                "dates and no\ntimings in it: the same results give the same report."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc == 0 || (report.json && report.csv)) {
        complain(NULL, 0, "report: %s",
                 argc == 0 ? "there is no file; expected runs of duel or sweep"
                           : "there are both --json and --csv; expected one of them");
        return STATUS_MISUSED;
    }
    return read_and_write(&report, argv, argc) ? STATUS_DONE : STATUS_FAILED;
}
