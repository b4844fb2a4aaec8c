#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/base/output_file.h"
#include "bench/lesson/handout_games.h"

#include <string.h>

enum { TABLE_MIB = 16 };

typedef struct HandoutRun {
    Handout handout;
    Progress progress;
    size_t wanted; /* number of the game to take from each .pgn file, 0: all */
} HandoutRun;

static bool use_position(void *context, const EpdRecord *record)
{
    HandoutRun *run = context;
    if (!handout_add_position(&run->handout, record)) {
        progress_clear(&run->progress);
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    progress_show(&run->progress, (size_t)run->handout.count, NULL);
    return true;
}

static bool use_fen(HandoutRun *run, const char *fen)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    if (!epd_parse(fen, &record, error)) {
        complain(NULL, 0, "\"%s\" is neither an .epd file nor a .pgn file nor a FEN: %s", fen, error);
        return false;
    }
    bool good = use_position(run, &record);
    epd_free(&record);
    return good;
}

static bool use_input(HandoutRun *run, const char *input)
{
    if (operand_ends(input, ".epd"))
        return epd_read_file(input, use_position, run);
    if (operand_ends(input, ".pgn") || operand_ends(input, ".pgn.zst"))
        return handout_read_games(&run->handout, input, run->wanted, &run->progress);
    return use_fen(run, input);
}

/* Whether all inputs that are files can be read; leaves the others out. */
static bool sift(int *count, char **inputs)
{
    int given = *count;
    *count = 0;
    for (int i = 0; i < given; i++) {
        bool is_file = has_ending(inputs[i], ".epd") || has_ending(inputs[i], ".pgn");
        if (!is_file || inputs_sift(&inputs[i], 1) == 1)
            inputs[(*count)++] = inputs[i];
    }
    return *count == given;
}

static bool write_output(const char *path, const Handout *handout, void (*write)(FILE *, const Handout *))
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    write(file.stream, handout);
    return output_commit(&file);
}

Status handout_command(int argc, char **argv)
{
    HandoutRun run = {.handout = {.title = "Lesson sheet: where the chain points"}};
    int64_t nodes = 100000, margin = 50, wanted = 0;
    const char *html = NULL, *pgn = NULL;
    bool quiet = false;
    const Option options[] = {
        {.name = "html",
         .argument = "OUT",
         .help = "the page to write",
         .text = &html,
         .required = true,
         .file = FILE_WRITTEN},
        {.name = "pgn",
         .argument = "OUT",
         .help = "the same as annotated PGN",
         .text = &pgn,
         .file = FILE_WRITTEN},
        {.name = "title", .argument = "TEXT", .help = "its title", .text = &run.handout.title},
        {.name = "pupils",
         .help = "tasks first, answers on a sheet of their own",
         .flag = &run.handout.pupils},
        {.name = "flip", .help = "Black's side of the board below", .flag = &run.handout.flip},
        {.name = "findings",
         .help = "what was found of the rule, in three sentences at the foot",
         .flag = &run.handout.findings},
        {.name = "nodes",
         .argument = "N",
         .help = "positions that each search may visit",
         .integer = &nodes,
         .least = 1000,
         .greatest = INT64_C(1000000000000)},
        {.name = "margin",
         .argument = "CP",
         .help = "centipawns that a preparing move may be behind the best one",
         .integer = &margin,
         .least = 0,
         .greatest = 1000},
        {.name = "game",
         .argument = "N",
         .help = "only that game of each .pgn file, 1 for the first",
         .integer = &wanted,
         .least = 1,
         .greatest = INT64_C(1000000000)},
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {"INPUT... --html OUT [OPTION]...",
                                "Writes a lesson sheet to print. An INPUT is an .epd file or a FEN in "
                                "quotes. Not for use during a game."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc == 0) {
        complain(NULL, 0, "handout: there is no input; expected .epd files, .pgn files or FENs in quotes");
        return STATUS_MISUSED;
    }
    bool whole = sift(&argc, argv);
    if (argc == 0 || (!whole && (!inputs_allow_partial(html) || !inputs_allow_partial(pgn))))
        return STATUS_FAILED;
    run.handout.settings = (LessonSettings){.nodes = (uint64_t)nodes, .sound_margin = (int)margin};
    run.wanted = (size_t)wanted;
    run.handout.player = player_new(TABLE_MIB);
    if (run.handout.player == NULL) {
        complain(NULL, 0, "memory ran out");
        return STATUS_FAILED;
    }
    player_settings(run.handout.player)->lever_weight = 0;
    progress_start(&run.progress, "positions and games", 0, quiet);
    bool good = true;
    for (int i = 0; i < argc; i++)
        good &= use_input(&run, argv[i]);
    progress_clear(&run.progress);
    /* An incomplete sheet must not take the place of a complete one. */
    if (good)
        good = write_output(html, &run.handout, handout_write_page) &&
               (pgn == NULL || write_output(pgn, &run.handout, handout_write_pgn));
    handout_free(&run.handout);
    player_free(run.handout.player);
    return good && whole ? STATUS_DONE : STATUS_FAILED;
}
