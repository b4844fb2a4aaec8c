#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/explain/explain.h"

typedef struct Explain {
    bool json;
    bool began; /* something has been printed for people */
} Explain;

static bool explain_record(void *context, const EpdRecord *record)
{
    Explain *explain = context;
    if (explain->json) {
        if (explain_print_json(stdout, record))
            return true;
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    if (explain->began)
        puts("\n--------------------------------------------------------------------------------\n");
    explain->began = true;
    explain_print(stdout, record);
    return true;
}

static Status explain_fen(Explain *explain, const char *fen)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    if (!epd_parse(fen, &record, error)) {
        complain(NULL, 0, "--fen is \"%s\": %s", fen, error);
        return STATUS_MISUSED;
    }
    bool good = explain_record(explain, &record);
    epd_free(&record);
    return good ? STATUS_DONE : STATUS_FAILED;
}

Status explain_command(int argc, char **argv)
{
    Explain explain = {0};
    const char *fen = NULL;
    const Option options[] = {
        {.name = "json", .help = "one JSON object a line", .flag = &explain.json},
        {.name = "fen", .argument = "FEN", .help = "one position, quoted", .text = &fen},
        {.file = FILE_READ},
    };
    static const Usage usage = {"[--json] --fen FEN | FILE... | -",
                                "Says what is locked in a position, where each side's pawns point, with "
                                "which lever, and what is in its\n"
                                "way. A FILE has a FEN or EPD line for each position; - is the standard "
                                "input. Bad lines are reported and\n"
                                "left out."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if ((fen != NULL) == (argc > 0)) {
        complain(NULL, 0, "explain: %s; expected either --fen FEN or files, - for the standard input",
                 fen ? "there are both --fen and a file" : "there is no position");
        return STATUS_MISUSED;
    }
    if (fen)
        return explain_fen(&explain, fen);
    int count = inputs_sift(argv, argc);
    bool good = count == argc;
    for (int i = 0; i < count; i++)
        good &= epd_read_file(argv[i], explain_record, &explain);
    return good ? STATUS_DONE : STATUS_FAILED;
}
