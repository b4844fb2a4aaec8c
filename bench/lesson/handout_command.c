#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/base/parallel.h"
#include "bench/lesson/handout_games.h"
#include "bench/lesson/handout_pages.h"
#include "bench/pgn/pgn_position.h"

#include <stdlib.h>
#include <string.h>

#define DEFAULT_MOVETIME 1000

enum { TABLE_MIB = 64 };

typedef struct HandoutRun {
    Handout handout;
    size_t wanted; /* number of the game to take from each .pgn file, 0: all */
    bool one_move; /* the position at `place` instead of games */
    PgnPlace place;
    bool memory_ran_out;
} HandoutRun;

static bool use_position(void *context, const EpdRecord *record)
{
    HandoutRun *run = context;
    char error[EPD_ERROR_SIZE];
    MoveList moves;
    if (!record->skeleton &&
        (!epd_moves(record, "bm", &moves, error) || !epd_moves(record, "sm", &moves, error))) {
        complain(record->file, record->line, "%s", error);
        return false;
    }
    if (!handout_add_position(&run->handout, record)) {
        complain(record->file, record->line, "memory ran out");
        run->memory_ran_out = true;
        return false;
    }
    return true;
}

static bool use_fen(HandoutRun *run, const char *fen)
{
    EpdRecord record;
    char error[EPD_ERROR_SIZE], remark[FEN_REMARK_SIZE];
    if (!epd_parse_by_hand(fen, &record, remark, error)) {
        complain(NULL, 0, "\"%s\" is neither an .epd file nor a .pgn file nor a FEN: %s", fen, error);
        return false;
    }
    if (*remark)
        complain(NULL, 0, "\"%s\": %s", fen, remark);
    bool good = use_position(run, &record);
    epd_free(&record);
    return good;
}

static bool use_input(HandoutRun *run, const char *input)
{
    if (operand_ends(input, ".epd"))
        return epd_read_file_by_hand(input, use_position, run);
    if (!pgn_is_named(input))
        return use_fen(run, input);
    return run->one_move ? pgn_read_position(input, &run->place, use_position, run)
                         : handout_read_games(&run->handout, input, run->wanted);
}

/* Whether all inputs that are files can be read; leaves the others out. */
static bool sift(int *count, char **inputs)
{
    int given = *count;
    *count = 0;
    for (int i = 0; i < given; i++) {
        bool is_file = operand_ends(inputs[i], ".epd") || pgn_is_named(inputs[i]);
        if (!is_file || inputs_sift(&inputs[i], 1) == 1)
            inputs[(*count)++] = inputs[i];
    }
    return *count == given;
}

/* A null path is not wanted. */
typedef struct Sheets {
    const char *html, *pages, *pgn;
} Sheets;

static bool write_sheets(Handout *handout, const Sheets *sheets, bool quiet)
{
    Progress progress;
    progress_start(&progress, "positions and games", 0, quiet);
    if (sheets->pages == NULL && !handout_study(handout, &progress)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    if (handout->quiz && !handout_has_questions(handout)) {
        complain(NULL, 0, "handout: no chain with a direction was locked in these games; a quiz needs one");
        return false;
    }
    return (sheets->pages == NULL || handout_write_pages(handout, sheets->pages, &progress)) &&
           (sheets->html == NULL || handout_write_file(sheets->html, handout, handout_write_page)) &&
           (sheets->pgn == NULL || handout_write_file(sheets->pgn, handout, handout_write_pgn));
}

/* Whether what is there already may be replaced by what part of the input gives. */
static bool may_be_partial(const Sheets *sheets)
{
    char *index = sheets->pages != NULL ? handout_index_path(sheets->pages) : NULL;
    bool good = inputs_allow_partial(sheets->html) && inputs_allow_partial(sheets->pgn) &&
                inputs_allow_partial(index);
    free(index);
    return good;
}

/* Without a number of nodes each search has what all processors visit in the time. */
static bool make_player(Handout *handout, uint64_t nodes, int64_t movetime)
{
    handout->player = player_new(TABLE_MIB);
    if (handout->player == NULL)
        return false;
    player_settings(handout->player)->lever_weight = 0;
    if (nodes == 0) {
        player_set_workers(handout->player, parallel_processors()); /* else it stays with what it has */
        nodes = effort_nodes_in(handout->player, movetime);
    }
    handout->settings.effort.nodes = nodes;
    return true;
}

Status handout_command(int argc, char **argv)
{
    static const char sheet[] = "Lesson sheet: where the chain points",
                      quiz[] = "Where does the chain point?";
    HandoutRun run = {.handout = {.title = sheet}};
    int64_t nodes = 0, movetime = DEFAULT_MOVETIME, margin = 50, wanted = 0;
    Sheets sheets = {0};
    const char *move = NULL;
    static const char *const per_page_choices[] = {"any", "1", "2", "4", "6", NULL};
    static const int per_page_values[] = {0, 1, 2, 4, 6};
    int per_page = 0;
    bool quiet = false;
    const Option options[] = {
        {.name = "html",
         .argument = "OUT",
         .help = "the page to write",
         .text = &sheets.html,
         .file = FILE_WRITTEN},
        {.name = "pages",
         .argument = "FOLDER",
         .help =
             "a page for each position and game, and an index.html; each is written as soon as it is done",
         .text = &sheets.pages,
         .file = FILE_WRITTEN},
        {.name = "pgn",
         .argument = "OUT",
         .help = "the same as annotated PGN",
         .text = &sheets.pgn,
         .file = FILE_WRITTEN},
        {.name = "title", .argument = "TEXT", .help = "its title", .text = &run.handout.title},
        {.name = "pupils",
         .help = "tasks first, answers on a sheet of their own",
         .flag = &run.handout.pupils},
        {.name = "quiz",
         .help = "not a sheet, but a page that asks for wings and levers, and counts what is right",
         .flag = &run.handout.quiz},
        {.name = "per-page",
         .argument = "N",
         .help = "tasks, and with --short answers, on a sheet of paper",
         .choice = &per_page,
         .choices = per_page_choices},
        {.name = "short",
         .help = "of each position only the answer, the best move and the misreading",
         .flag = &run.handout.brief},
        {.name = "hide-names",
         .help = "tasks without the names of positions and games, which may give the answer away",
         .flag = &run.handout.hide_names},
        {.name = "flip", .help = "Black's side of the board below", .flag = &run.handout.flip},
        {.name = "findings",
         .help = "what was found of the rule, in four sentences at the foot",
         .flag = &run.handout.findings},
        {.name = "nodes",
         .argument = "N",
         .help = "positions that each search may visit, on one processor, in place of a time: the same every "
                 "time",
         .integer = &nodes,
         .least = 1000,
         .greatest = INT64_C(1000000000000)},
        {.name = "movetime",
         .argument = "MS",
         .help = "milliseconds that a search takes, about, on all processors",
         .integer = &movetime,
         .least = 10,
         .greatest = 3600000},
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
        {.name = "move",
         .argument = "MOVE",
         .help = "not the game, but its position after that move: 12w is White's twelfth, 12b Black's; of "
                 "the first "
                 "game unless --game says which",
         .text = &move},
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "INPUT... --html OUT | --pages FOLDER [OPTION]...",
        "Writes a lesson sheet to print. An INPUT is an .epd file, a .pgn file, or a FEN in "
        "quotes. All of it is\n"
        "read before the first search; what is bad is reported and left out, and the status "
        "is then 1. Pawns\nwithout kings are a skeleton: explained, and not searched. Not for use during a "
        "game."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc == 0) {
        complain(NULL, 0, "handout: there is no input; expected .epd files, .pgn files or FENs in quotes");
        return STATUS_MISUSED;
    }
    if (sheets.html == NULL && sheets.pages == NULL) {
        complain(NULL, 0, "handout: there is nothing to write; expected --html or --pages");
        return STATUS_MISUSED;
    }
    run.handout.per_page = per_page_values[per_page];
    if (run.handout.per_page > 0 && !run.handout.pupils && !run.handout.brief) {
        complain(
            NULL, 0,
            "handout: --per-page is for tasks and for short answers; expected --pupils or --short as well");
        return STATUS_MISUSED;
    }
    if (run.handout.quiz &&
        (run.handout.pupils || run.handout.brief || run.handout.findings || sheets.pages != NULL)) {
        complain(
            NULL, 0,
            "handout: --quiz is one page for the screen; expected it without --pages, --pupils, --short and "
            "--findings");
        return STATUS_MISUSED;
    }
    if (run.handout.quiz && run.handout.title == sheet)
        run.handout.title = quiz;
    bool whole = sift(&argc, argv);
    if (argc == 0 || (!whole && !may_be_partial(&sheets)))
        return STATUS_FAILED;
    run.wanted = (size_t)wanted;
    run.one_move = move != NULL;
    run.place.game = wanted > 0 ? (size_t)wanted : 1;
    if (run.one_move && !pgn_place_read_move(&run.place, move))
        return STATUS_MISUSED;
    run.handout.settings.sound_margin = (int)margin;
    if (!make_player(&run.handout, (uint64_t)nodes, movetime)) {
        complain(NULL, 0, "memory ran out");
        return STATUS_FAILED;
    }
    bool good = true;
    for (int i = 0; i < argc; i++)
        good &= use_input(&run, argv[i]);
    if (run.handout.count > 0 && !run.memory_ran_out)
        good &= write_sheets(&run.handout, &sheets, quiet);
    handout_free(&run.handout);
    player_free(run.handout.player);
    return good && whole ? STATUS_DONE : STATUS_FAILED;
}
