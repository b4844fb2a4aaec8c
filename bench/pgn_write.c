#include "bench/pgn_write.h"
#include "bench/command_line.h"
#include "bench/output_file.h"
#include "engine/fen.h"
#include "engine/notation.h"

#include <errno.h>
#include <string.h>

enum { LINE_WIDTH = 79, TOKEN_SIZE = 32 };

typedef struct PgnWriter {
    FILE *out;
    const StoredRun *run;
    const char *path; /* of the store, for messages */
    size_t column;
} PgnWriter;

static void write_tag(FILE *out, const char *name, const char *value)
{
    fprintf(out, "[%s \"", name);
    for (; *value; value++) {
        if (*value == '"' || *value == '\\')
            fputc('\\', out);
        fputc(*value, out);
    }
    fputs("\"]\n", out);
}

/* Writes a token of the movetext, on a new line if it does not fit on this one. */
static void write_token(PgnWriter *writer, const char *token)
{
    size_t length = strlen(token);
    if (writer->column > 0 && writer->column + 1 + length > LINE_WIDTH) {
        fputc('\n', writer->out);
        writer->column = 0;
    } else if (writer->column > 0) {
        fputc(' ', writer->out);
        writer->column++;
    }
    fputs(token, writer->out);
    writer->column += length;
}

static void write_number(PgnWriter *writer, const Position *position, bool first)
{
    char token[TOKEN_SIZE];
    if (position_turn(position) == BLACK && !first)
        return;
    snprintf(token, sizeof token, "%d%s", position->fullmove, position_turn(position) == WHITE ? "." : "...");
    write_token(writer, token);
}

static bool write_moves(PgnWriter *writer, const StoredGame *game)
{
    Position position;
    bool first = true;
    if (fen_parse(game->fen, false, &position, NULL) != FEN_OK)
        return false;
    for (const char *at = game->moves; *at; at += strspn(at, " ")) {
        char text[TOKEN_SIZE], san[MOVE_TEXT_SIZE];
        size_t length = strcspn(at, " ");
        Move move;
        snprintf(text, sizeof text, "%.*s", (int)length, at);
        if (lan_parse(&position, text, &move) != NOTATION_OK)
            return false;
        write_number(writer, &position, first);
        san_write(&position, move, san);
        write_token(writer, san);
        position_play(&position, move);
        first = false;
        at += length;
    }
    return true;
}

static bool write_game(void *context, const StoredGame *game)
{
    static const char *const results[] = {"0-1", "1/2-1/2", "1-0"};
    PgnWriter *writer = context;
    const StoredMatch *match = &writer->run->matches[game->key.match];
    char arms[2][ARM_TEXT_SIZE], round[64];
    stored_arm_text(&writer->run->arms[match->arm_a], arms[game->key.half]);
    stored_arm_text(&writer->run->arms[match->arm_b], arms[1 - game->key.half]);
    snprintf(round, sizeof round, "%d.%d.%d", game->key.match + 1, game->key.pair + 1, game->key.half + 1);
    const char *kind = stored_setting(writer->run, "kind");
    write_tag(writer->out, "Event", kind ? kind : "?");
    write_tag(writer->out, "Site", "?");
    write_tag(writer->out, "Date", "????.??.??");
    write_tag(writer->out, "Round", round);
    write_tag(writer->out, "White", arms[0]);
    write_tag(writer->out, "Black", arms[1]);
    write_tag(writer->out, "Result", results[game->white_points]);
    write_tag(writer->out, "SetUp", "1");
    write_tag(writer->out, "FEN", game->fen);
    write_tag(writer->out, "Opening", game->opening);
    write_tag(writer->out, "Stratum", game->stratum);
    write_tag(writer->out, "Termination", game->ending);
    fputc('\n', writer->out);
    writer->column = 0;
    if (!write_moves(writer, game)) {
        complain(writer->path, 0, "game %d of pair %d of match %d cannot be played out; expected legal moves",
                 game->key.half, game->key.pair, game->key.match);
        return false;
    }
    write_token(writer, results[game->white_points]);
    fputs("\n\n", writer->out);
    return true;
}

bool pgn_write(const char *path, const Database *database)
{
    OutputFile file;
    StoredRun run;
    if (!stored_run_read(&run, database)) {
        stored_run_free(&run);
        return false;
    }
    bool opened = output_open(&file, path), good = opened;
    if (opened) {
        PgnWriter writer = {.out = file.stream, .run = &run, .path = database->path};
        good = stored_games_each(database, write_game, &writer);
        if (!good)
            output_abandon(&file);
    }
    stored_run_free(&run);
    if (opened && !good)
        return false;
    if (opened && output_commit(&file))
        return true;
    complain(path, 0, "cannot be written: %s", strerror(errno));
    return false;
}
