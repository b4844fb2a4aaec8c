#include "bench/play/play.h"
#include "bench/base/complaint.h"
#include "bench/base/monotonic.h"

#include <stdlib.h>

/* Common practice, no source. */
const Adjudication default_adjudication = {
    .win_score = 800, .win_plies = 6, .draw_score = 10, .draw_plies = 12, .draw_from = 80, .longest = 400};

const char ending_adjudicated_win[] = "adjudicated win", ending_adjudicated_draw[] = "adjudicated draw",
           ending_longest[] = "longest game", ending_time[] = "time";

/* For how many plies running a condition of adjudication has held. */
typedef struct Streaks {
    int white_ahead, black_ahead, level;
} Streaks;

static bool finish(GameRecord *record, int white_points, const char *ending)
{
    record->white_points = white_points;
    record->ending = ending;
    return true;
}

static bool ended_by_rule(const Game *game, GameRecord *record)
{
    GameEnd end = game_end(game, true);
    if (end == GAME_GOES_ON)
        return false;
    bool white_is_mated = position_turn(&game->position) == WHITE;
    int points = end != GAME_CHECKMATE ? 1 : white_is_mated ? 0 : 2;
    return finish(record, points, game_end_text(end));
}

static void count_ply(Streaks *streaks, const Adjudication *limits, int white_score)
{
    streaks->white_ahead = white_score >= limits->win_score ? streaks->white_ahead + 1 : 0;
    streaks->black_ahead = white_score <= -limits->win_score ? streaks->black_ahead + 1 : 0;
    streaks->level = abs(white_score) <= limits->draw_score ? streaks->level + 1 : 0;
}

static bool adjudicated(const Streaks *streaks, const Adjudication *limits, GameRecord *record)
{
    if (limits->win_plies && streaks->white_ahead >= limits->win_plies)
        return finish(record, 2, ending_adjudicated_win);
    if (limits->win_plies && streaks->black_ahead >= limits->win_plies)
        return finish(record, 0, ending_adjudicated_win);
    if (limits->draw_plies && record->plies >= limits->draw_from && streaks->level >= limits->draw_plies)
        return finish(record, 1, ending_adjudicated_draw);
    return record->plies >= limits->longest && finish(record, 1, ending_longest);
}

/* Plays one move. False on failure; *over tells whether the clock has run out. */
static bool play_move(Contestant *player, const MoveRequest *request, Clocks *clocks, Game *game,
                      GameRecord *record, bool *over)
{
    Side us = position_turn(&game->position);
    const TimeControl *time = request->time;
    ChosenMove chosen;
    int64_t begun = monotonic_ms();
    if (!contestant_choose(player, request, &chosen))
        return false;
    if (time->clock_ms) {
        clocks->left_ms[us] -= monotonic_ms() - begun;
        *over = clocks->left_ms[us] <= 0;
        clocks->left_ms[us] += time->increment_ms;
    }
    if (*over)
        return finish(record, us == WHITE ? 0 : 2, ending_time);
    record->moves[record->plies] = chosen.move;
    record->scores[record->plies++] = (int16_t)chosen.score;
    if (game_play(game, chosen.move))
        return true;
    complain(NULL, 0, "memory ran out in a game");
    return false;
}

bool play_game(Contestant *const players[2], const Position *start, const TimeControl *time,
               const Adjudication *adjudication, GameRecord *record)
{
    Game game;
    Clocks clocks = {{time->clock_ms, time->clock_ms}};
    Streaks streaks = {0, 0, 0};
    record->plies = 0;
    if (!game_start(&game, start)) {
        complain(NULL, 0, "memory ran out at the start of a game");
        return false;
    }
    bool good = contestant_new_game(players[WHITE]) && contestant_new_game(players[BLACK]), over = false;
    while (good && !over && !ended_by_rule(&game, record) && !adjudicated(&streaks, adjudication, record)) {
        Side us = position_turn(&game.position);
        const MoveRequest request = {{start, record->plies, record->moves, &game}, time, &clocks};
        good = play_move(players[us], &request, &clocks, &game, record, &over);
        if (good && !over) {
            int score = record->scores[record->plies - 1];
            count_ply(&streaks, adjudication, us == WHITE ? score : -score);
        }
    }
    game_free(&game);
    return good;
}
