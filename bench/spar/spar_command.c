#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/number.h"
#include "bench/play/opening.h"
#include "bench/spar/spar_dialogue.h"
#include "bench/spar/spar_sheet.h"

#include <stdlib.h>
#include <string.h>

enum { TABLE_MIB = 16 };

#define STORY_NODES 30000
#define MOVETIME 1000

typedef enum PupilColor { COLOR_WHITE, COLOR_BLACK, COLOR_TURNS } PupilColor;

typedef struct SparOptions {
    const char *openings, *strata, *html, *pgn;
    int color, style;
    int64_t margin, elo, seed, movetime, nodes;
    bool words, notes;
} SparOptions;

static bool read_openings(OpeningSet *set, const SparOptions *given)
{
    if (!openings_read_strata(set, given->openings, given->strata))
        return false;
    if (set->count > 0)
        return openings_arrange(set, set->count, (uint64_t)given->seed);
    complain(given->openings, 0, "has no openings; expected one at least");
    return false;
}

static Side color_of_game(int color, size_t number)
{
    if (color == COLOR_TURNS)
        return number % 2 == 0 ? WHITE : BLACK;
    return color == COLOR_WHITE ? WHITE : BLACK;
}

/* Where the game starts, and against whom. */
static void introduce(const SparDialogue *dialogue, const SparMatch *match, size_t number,
                      const char *opening)
{
    char *text = NULL, strength[32] = "at full strength";
    const Sparring *partner = &match->sparring;
    if (partner->elo)
        snprintf(strength, sizeof strength, "of strength %d", partner->elo);
    if (asprintf(&text, "Game %zu: %s. You have %s; your partner is %s, %s.", number, opening,
                 match->pupil == WHITE ? "White" : "Black", spar_style_name(partner->style), strength) < 0)
        return;
    spar_dialogue_say(dialogue, text);
    spar_dialogue_say(dialogue, "Type help for what can be typed.");
    free(text);
}

/* One game after the other. What was played is on the sheet, whatever stops it. */
static bool play(const SparOptions *given, const OpeningSet *set, SparMatch *match, SparSheet *sheet)
{
    const SparDialogue dialogue = {stdin, stdout, given->words, given->notes};
    bool good = true, more = true;
    for (size_t number = 0; good && more; number++) {
        const Opening *opening = &set->items[number % set->count];
        match->pupil = color_of_game(given->color, number);
        match->sparring.seed = (uint64_t)given->seed + number;
        introduce(&dialogue, match, number + 1, opening->name);
        good = spar_match_start(match, &opening->position) && spar_dialogue_play(&dialogue, match, &more);
        good = spar_sheet_add(sheet, match, opening->name) && good;
        spar_match_free(match);
    }
    if (!good)
        complain(NULL, 0, "memory ran out");
    return good;
}

static bool run(const SparOptions *given, const OpeningSet *set, SparMatch *match, SparSheet *sheet)
{
    setvbuf(stdin, NULL, _IONBF, 0);
    interrupt_catch(); /* from here on there is a game that must not be lost */
    bool good = play(given, set, match, sheet);
    puts("The story of what was played is being worked out.");
    fflush(stdout);
    if (!spar_sheet_write(sheet))
        return false;
    printf("Saved, to read and to print: %s\nSaved, for any chess program: %s\n", sheet->html, sheet->pgn);
    return good;
}

Status spar_command(int argc, char **argv)
{
    static const char *const colors[] = {"white", "black", "turns", NULL};
    const char *styles[SPAR_STYLE_COUNT + 1] = {NULL};
    SparOptions given = {
        .margin = SPAR_MARGIN, .seed = 1, .movetime = MOVETIME, .nodes = STORY_NODES, .style = SPAR_FAITHFUL};
    for (int i = 0; i < SPAR_STYLE_COUNT; i++)
        styles[i] = spar_style_name((SparStyle)i);
    const Option options[] = {
        {.name = "openings",
         .argument = "FILE",
         .help = "EPD: where the games start; id names, c0 gives the stratum",
         .text = &given.openings,
         .file = FILE_READ,
         .required = true},
        {.name = "strata",
         .argument = "NAMES",
         .help = "only openings of these, with commas between (default: all)",
         .text = &given.strata},
        {.name = "color",
         .argument = "COLOR",
         .help = "yours; turns: another one in each game",
         .choice = &given.color,
         .choices = colors},
        {.name = "style",
         .argument = "STYLE",
         .help = "how your partner treats the plans",
         .choice = &given.style,
         .choices = styles},
        {.name = "spar-margin",
         .argument = "CP",
         .help = "centipawns that the style may cost it",
         .integer = &given.margin,
         .least = 0,
         .greatest = SPAR_MARGIN_MOST},
        {.name = "elo",
         .argument = "N",
         .help = "its strength, " DIGITS_OF(STRENGTH_LEAST) " to " DIGITS_OF(STRENGTH_MOST) " (full)",
         .integer = &given.elo,
         .least = STRENGTH_LEAST,
         .greatest = STRENGTH_MOST},
        {.name = "movetime",
         .argument = "MS",
         .help = "milliseconds that it may think about a move",
         .integer = &given.movetime,
         .least = 1,
         .greatest = 3600000},
        {.name = "seed",
         .argument = "S",
         .help = "of the order of openings and of its errors",
         .integer = &given.seed,
         .least = 0,
         .greatest = INT64_MAX},
        {.name = "notes", .help = "say unasked what changes in the plans", .flag = &given.notes},
        {.name = "words", .help = "say where the men stand, and print no board", .flag = &given.words},
        {.name = "html",
         .argument = "OUT",
         .help = "the page to write (the first spar-N.html that is free)",
         .text = &given.html,
         .file = FILE_WRITTEN},
        {.name = "pgn",
         .argument = "OUT",
         .help = "the same as annotated PGN (the first spar-N.pgn that is free)",
         .text = &given.pgn,
         .file = FILE_WRITTEN},
        {.name = "nodes",
         .argument = "N",
         .help = "positions of each search for the story; 0: no search",
         .integer = &given.nodes,
         .least = 0,
         .greatest = 1000000000},
        {0},
    };
    static const Usage usage = {
        "--openings FILE [OPTION]...",
        "A training match against the engine, in the terminal: line by line, without "
        "colours and drawings. At its\nend the story of each game is saved as a page and "
        "as PGN. The ratings are of no federation."};
    Status status;
    OpeningSet set = {0};
    SparSheet sheet = {0};
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc > 0) {
        complain(NULL, 0, "spar: \"%s\" is one argument too many; expected options only", argv[0]);
        return STATUS_MISUSED;
    }
    SparMatch match = {.player = player_new(TABLE_MIB),
                       .sparring = {.style = given.style, .margin = (int)given.margin, .elo = (int)given.elo},
                       .limits = {.hard_ms = given.movetime}};
    if (!match.player)
        complain(NULL, 0, "memory ran out");
    bool good = match.player && read_openings(&set, &given) &&
                spar_sheet_begin(&sheet, given.html, given.pgn, (int)given.nodes) &&
                run(&given, &set, &match, &sheet);
    spar_sheet_free(&sheet);
    openings_free(&set);
    player_free(match.player);
    return good ? STATUS_DONE : STATUS_FAILED;
}
