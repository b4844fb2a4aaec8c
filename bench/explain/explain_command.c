#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/inputs.h"
#include "bench/explain/explain.h"
#include "bench/pgn/pgn_position.h"

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
    char error[EPD_ERROR_SIZE], remark[FEN_REMARK_SIZE];
    if (!epd_parse_by_hand(fen, &record, remark, error)) {
        complain(NULL, 0, "--fen is \"%s\": %s", fen, error);
        return STATUS_MISUSED;
    }
    if (*remark)
        complain(NULL, 0, "--fen is \"%s\": %s", fen, remark);
    bool good = explain_record(explain, &record);
    epd_free(&record);
    return good ? STATUS_DONE : STATUS_FAILED;
}

/* A game has many positions: somebody must say which. */
static bool read_place(PgnPlace *place, size_t game, const char *move, int argc, char **argv)
{
    *place = (PgnPlace){.game = game};
    if (move != NULL)
        return pgn_place_read_move(place, move);
    for (int i = 0; i < argc; i++)
        if (pgn_is_named(argv[i])) {
            complain(NULL, 0,
                     "explain: %s has games; expected the move to explain as well, as in --game 3 --move 12b",
                     argv[i]);
            return false;
        }
    return true;
}

Status explain_command(int argc, char **argv)
{
    Explain explain = {0};
    const char *fen = NULL, *move = NULL;
    int64_t game = 1;
    PgnPlace place;
    const Option options[] = {
        {.name = "json", .help = "one JSON object a line", .flag = &explain.json},
        {.name = "fen", .argument = "FEN", .help = "one position, quoted", .text = &fen},
        {.name = "game",
         .argument = "N",
         .help = "the game of a .pgn file, 1 for the first",
         .integer = &game,
         .least = 1,
         .greatest = INT64_C(1000000000)},
        {.name = "move",
         .argument = "MOVE",
         .help = "the position of that game after that move: 12w is White's twelfth, 12b Black's",
         .text = &move},
        {.file = FILE_READ},
    };
    static const Usage usage = {"[OPTION]... --fen FEN | FILE... | -",
                                "Says what is locked in a position, where each side's pawns point, with "
                                "which lever, and what is in its\n"
                                "way. A FILE has a FEN or EPD line for each position, or games if it ends in "
                                ".pgn; - is the standard input,\n"
                                "of lines. Pawns without kings are a skeleton. Bad lines are reported and "
                                "left out."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if ((fen != NULL) == (argc > 0)) {
        complain(NULL, 0, "explain: %s; expected either --fen FEN or files, - for the standard input",
                 fen ? "there are both --fen and a file" : "there is no position");
        return STATUS_MISUSED;
    }
    if (!read_place(&place, (size_t)game, move, argc, argv))
        return STATUS_MISUSED;
    if (fen)
        return explain_fen(&explain, fen);
    int count = inputs_sift(argv, argc);
    bool good = count == argc;
    for (int i = 0; i < count; i++)
        good &= pgn_is_named(argv[i]) ? pgn_read_position(argv[i], &place, explain_record, &explain)
                                      : epd_read_file_by_hand(argv[i], explain_record, &explain);
    return good ? STATUS_DONE : STATUS_FAILED;
}
