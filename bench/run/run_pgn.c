#include "bench/run/run_pgn.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/pgn/pgn_writer.h"
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"

#include <string.h>

typedef struct RunWriter {
    PgnWriter writer;
    const StoredRun *run;
    const char *path; /* of the store, for messages */
} RunWriter;

static bool write_moves(PgnWriter *writer, Position *position, const StoredGame *game)
{
    for (int ply = 0; ply < game->plies; ply++) {
        Move move = stored_move(game, ply);
        if (!movegen_is_legal(position, move))
            return false;
        pgn_write_move(writer, position, move);
        position_play(position, move);
    }
    return true;
}

/* The standard's word for how a game ended (section 9.8.1). */
static const char *termination(const char *ending)
{
    const char *const adjudicated[] = {ending_adjudicated_win, ending_adjudicated_draw, ending_longest};
    for (size_t i = 0; i < sizeof adjudicated / sizeof *adjudicated; i++) {
        if (strcmp(ending, adjudicated[i]) == 0)
            return "adjudication";
    }
    static const char *const forfeits[FORFEIT_COUNT] = {"time forfeit", "rules infraction", "abandoned"};
    for (int i = 0; i < FORFEIT_COUNT; i++) {
        if (strcmp(ending, ending_forfeits[i]) == 0)
            return forfeits[i];
    }
    return "normal";
}

static void write_tags(RunWriter *run, const StoredGame *game, const Position *start, const char *result)
{
    const StoredMatch *match = &run->run->matches[game->key.match];
    char arms[2][ARM_TEXT_SIZE], round[64];
    stored_arm_text(&run->run->arms[match->arm_a], arms[game->key.half]);
    stored_arm_text(&run->run->arms[match->arm_b], arms[1 - game->key.half]);
    snprintf(round, sizeof round, "%d.%d.%d", game->key.match + 1, game->key.pair + 1, game->key.half + 1);
    pgn_write_roster(&run->writer, &(PgnRoster){.event = stored_setting(run->run, "kind"),
                                                .date = "????.??.??",
                                                .round = round,
                                                .white = arms[0],
                                                .black = arms[1],
                                                .result = result});
    pgn_write_start(&run->writer, start);
    pgn_write_tag(&run->writer, "Opening", game->opening);
    pgn_write_tag(&run->writer, "Stratum", game->stratum);
    pgn_write_tag(&run->writer, "Termination", termination(game->ending));
    pgn_write_tag(&run->writer, "Ending", game->ending);
}

static bool write_game(void *context, const StoredGame *game)
{
    static const char *const results[] = {"0-1", "1/2-1/2", "1-0"};
    RunWriter *run = context;
    Position position;
    bool good = fen_parse(game->fen, false, &position, NULL) == FEN_OK;
    if (good) {
        write_tags(run, game, &position, results[game->white_points]);
        pgn_begin_moves(&run->writer);
        good = write_moves(&run->writer, &position, game);
    }
    if (!good) {
        complain(run->path, 0, "game %d of pair %d of match %d cannot be played out; expected legal moves",
                 game->key.half, game->key.pair, game->key.match);
        return false;
    }
    pgn_end_game(&run->writer, results[game->white_points]);
    return true;
}

bool run_pgn_write(const char *path, const Database *database)
{
    OutputFile file;
    StoredRun run;
    if (!stored_run_read(&run, database)) {
        stored_run_free(&run);
        return false;
    }
    bool good = output_open(&file, path);
    if (good) {
        RunWriter writer = {.writer = {.out = file.stream}, .run = &run, .path = database->path};
        good = stored_games_each(database, write_game, &writer);
        if (good)
            good = output_commit(&file);
        else
            output_abandon(&file);
    }
    stored_run_free(&run);
    return good;
}
