#include "bench/pgn/pgn_position.h"
#include "bench/base/command_line.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "engine/rules/notation.h"

#include <string.h>

enum { NAME_SIZE = 128, LINE_SIZE = 2048, MOVES_LONGEST = 9999 };

bool pgn_is_named(const char *path)
{
    return operand_ends(path, ".pgn") || operand_ends(path, ".pgn.zst");
}

bool pgn_place_read_move(PgnPlace *place, const char *text)
{
    char digits[8] = "";
    size_t length = strlen(text);
    int64_t number;
    bool sided = length > 1 && length < sizeof digits && strchr("wWbB", text[length - 1]) != NULL;
    if (sided)
        memcpy(digits, text, length - 1);
    if (!sided || !read_number(digits, 1, MOVES_LONGEST, &number)) {
        complain(NULL, 0,
                 "--move is \"%s\"; expected the number of a move and w or b for its side, as in 12b", text);
        return false;
    }
    place->number = (int)number;
    place->side = strchr("wW", text[length - 1]) != NULL ? WHITE : BLACK;
    return true;
}

typedef struct Search {
    const char *path;
    const PgnPlace *place;
    EpdUse use;
    void *context;
    Position before;         /* the latest move */
    char waiting[LINE_SIZE]; /* the line, without what was played next */
    size_t line;             /* of the file */
    bool waits;
    bool game_found, broken, found, good;
    int last_number; /* of the latest move */
    Side last_side;
} Search;

static bool begin(void *context, const PgnGame *game)
{
    Search *search = context;
    if (game->number != search->place->game)
        return false;
    search->game_found = true;
    search->before = game->start;
    return true;
}

/* The value of a tag with quotes that EPD can hold; `otherwise` if it tells nothing. */
static void copy_tag(const PgnGame *game, const char *name, const char *otherwise, char text[NAME_SIZE])
{
    PgnText value;
    snprintf(text, NAME_SIZE, "%s", otherwise);
    if (pgn_tag(game, name, &value) && value.length > 0 && *value.start != '?')
        pgn_text_copy(value, text, NAME_SIZE);
    for (char *c = text; *c; c++)
        *c = *c == '"' ? '\'' : *c;
}

void pgn_game_name(const PgnGame *game, char name[PGN_NAME_SIZE])
{
    char white[NAME_SIZE], black[NAME_SIZE], event[NAME_SIZE];
    copy_tag(game, "White", "White", white);
    copy_tag(game, "Black", "Black", black);
    copy_tag(game, "Event", "", event);
    snprintf(name, PGN_NAME_SIZE, "%s – %s%s%s", white, black, *event ? ", " : "", event);
}

void pgn_numbered_move(const Position *before, Move move, char text[PGN_NUMBERED_SIZE])
{
    char san[MOVE_TEXT_SIZE] = "--";
    if (move != NO_MOVE)
        san_write(before, move, san);
    snprintf(text, PGN_NUMBERED_SIZE, "%d%s%s", before->fullmove,
             position_turn(before) == WHITE ? "." : "...", san);
}

/* Keeps what is found until the next move is known. */
static void keep(Search *search, const PgnGame *game, Move move)
{
    char name[PGN_NAME_SIZE], numbered[PGN_NUMBERED_SIZE], fen[FEN_SIZE];
    pgn_game_name(game, name);
    pgn_numbered_move(&search->before, move, numbered);
    fen_write(&game->position, fen);
    snprintf(search->waiting, sizeof search->waiting, "%s id \"%s, after %s\";", fen, name, numbered);
    search->line = game->line;
    search->found = search->waits = true;
}

/* EPD (PGN standard, 1994, section 16.2.5): sm is the supplied move. */
static void hand_out(Search *search, const char *played)
{
    char line[LINE_SIZE + MOVE_TEXT_SIZE + 8], error[EPD_ERROR_SIZE];
    EpdRecord record;
    if (!search->waits)
        return;
    search->waits = false;
    snprintf(line, sizeof line, *played ? "%s sm %s;" : "%s", search->waiting, played);
    if (!epd_parse(line, &record, error)) {
        complain(search->path, (long)search->line, "%s", error);
        return;
    }
    record.file = search->path;
    record.line = (long)search->line;
    search->good = search->use(search->context, &record);
    epd_free(&record);
}

static void on_move(void *context, const PgnGame *game, Move move)
{
    Search *search = context;
    char san[MOVE_TEXT_SIZE] = "";
    if (search->waits && move != NO_MOVE)
        san_write(&search->before, move, san);
    hand_out(search, san);
    search->last_side = opposite(position_turn(&game->position));
    search->last_number = game->position.fullmove - (search->last_side == BLACK);
    if (!search->found && search->last_number == search->place->number &&
        search->last_side == search->place->side)
        keep(search, game, move);
    search->before = game->position;
}

static void on_broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Search *search = context;
    if (game->number != search->place->game)
        return;
    search->broken = true;
    search->game_found = true;
    if (!search->found)
        pgn_complain(search->path, fault, PGN_LEFT_OUT);
}

bool pgn_read_position(const char *path, const PgnPlace *place, EpdUse use, void *context)
{
    Search search = {.path = path, .place = place, .use = use, .context = context};
    if (!pgn_read_file(
            path, &(PgnVisitor){.context = &search, .begin = begin, .move = on_move, .broken = on_broken}))
        return false;
    hand_out(&search, "");
    if (!search.game_found)
        complain(path, 0, "there is no game %zu; expected the number of one", place->game);
    else if (!search.found && !search.broken)
        complain(path, 0, "game %zu has no move %d%c; its last is %d%c", place->game, place->number,
                 place->side == WHITE ? 'w' : 'b', search.last_number, search.last_side == WHITE ? 'w' : 'b');
    return search.found && search.good;
}
