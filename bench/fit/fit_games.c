#include "bench/fit/fit_games.h"
#include "bench/base/complaint.h"
#include "bench/pgn/pgn.h"

typedef struct Reading {
    FitSample *sample;
    const char *path;
    int plies_back;
    uint32_t games;
    bool failed, ended; /* `ended`: of this game no more moves are taken */
    GameRecord record;
} Reading;

static bool begin(void *context, const PgnGame *game)
{
    Reading *reading = context;
    (void)game;
    reading->record.plies = 0;
    reading->ended = false;
    return !reading->failed;
}

static void move(void *context, const PgnGame *game, Move played)
{
    Reading *reading = context;
    GameRecord *record = &reading->record;
    (void)game;
    reading->ended |= played == NO_MOVE || record->plies == GAME_PLIES_MAX;
    if (reading->ended)
        return;
    record->scores[record->plies] = NO_FIT_SCORE;
    record->moves[record->plies++] = played;
}

static void end(void *context, const PgnGame *game)
{
    static const int white_points[PGN_RESULT_COUNT] = {
        [PGN_NO_RESULT] = -1, [PGN_WHITE_WINS] = 2, [PGN_BLACK_WINS] = 0, [PGN_DRAW] = 1};
    Reading *reading = context;
    reading->record.white_points = white_points[game->result];
    if (reading->record.white_points < 0 || reading->failed)
        return;
    if (reading->games == FIT_GAME_MAX) {
        complain(reading->path, (long)game->line, "there are more games; expected %d at most", FIT_GAME_MAX);
        reading->failed = true;
    } else if (!fit_sample_add_game(reading->sample, ++reading->games, &game->start, &reading->record,
                                    reading->plies_back)) {
        complain(NULL, 0, "memory ran out for the sample");
        reading->failed = true;
    }
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Reading *reading = context;
    (void)game;
    reading->failed |= fault->cut;
    pgn_complain(reading->path, fault, PGN_LEFT_OUT);
}

bool fit_games_read(FitSample *sample, const char *path, int plies_back)
{
    Reading reading = {.sample = sample, .path = path, .plies_back = plies_back};
    const PgnVisitor visitor = {
        .context = &reading, .begin = begin, .move = move, .end = end, .broken = broken};
    if (!pgn_read_file(path, &visitor) || reading.failed)
        return false;
    if (reading.games > 0)
        return true;
    complain(path, 0, "there is no game with a result; expected one to learn from");
    return false;
}
