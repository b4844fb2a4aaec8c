#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/run/run_print.h"
#include "bench/run/store_merge.h"

static bool print_run(const char *path, RunFormat format, const Questions *questions)
{
    Database database = {0};
    StoredRun run = {0};
    bool good = stored_run_open(&database, path) && stored_run_read(&run, &database) &&
                run_print(stdout, &run, format, questions, NULL);
    stored_run_free(&run);
    database_close(&database);
    return good;
}

Status merge_command(int argc, char **argv)
{
    bool json = false, csv = false, partial = false;
    Questions questions = {0};
    const Option options[] = {
        {.name = "partial", .help = "join what there is, though games are missing", .flag = &partial},
        questions_effect_option(&questions),
        questions_margin_option(&questions),
        {.name = "json", .help = "print one JSON object", .flag = &json},
        {.name = "csv", .help = "print comma-separated values", .flag = &csv},
        {.file = FILES_JOINED},
    };
    static const Usage usage = {
        "OUT.db PART.db... [OPTION]...",
        "Joins the parts of an experiment that was played with --share in a new file, and\n"
        "prints its results as duel and sweep do. Fails if games are missing."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc < 2 || (json && csv)) {
        complain(NULL, 0, "merge: %s",
                 argc < 2 ? "files are missing; expected OUT.db and the parts"
                          : "--json and --csv are both there; expected one of them");
        return STATUS_MISUSED;
    }
    if (!store_merge(argv[0], argv + 1, argc - 1, partial) || !print_run(argv[0],
                                                                         json  ? RUN_AS_JSON
                                                                         : csv ? RUN_AS_CSV
                                                                               : RUN_AS_TEXT,
                                                                         &questions))
        return STATUS_FAILED;
    return STATUS_DONE;
}
