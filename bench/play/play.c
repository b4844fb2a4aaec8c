#include "bench/play/play.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/monotonic.h"

#include <stdio.h>
#include <stdlib.h>

/* Common practice, no source. */
const Adjudication default_adjudication = {
    .win_score = 800, .win_plies = 6, .draw_score = 10, .draw_plies = 12, .draw_from = 80, .longest = 400};

const char ending_adjudicated_win[] = "adjudicated win", ending_adjudicated_draw[] = "adjudicated draw",
           ending_longest[] = "longest game";

const char *const ending_forfeits[FORFEIT_COUNT] = {"time", "illegal move", "engine ended"};

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

static bool lose(GameRecord *record, Side loser, Forfeit forfeit)
{
    return finish(record, loser == WHITE ? 0 : 2, ending_forfeits[forfeit]);
}

/* Whether a player does not play on. False on failure; *over tells that it has lost by that. */
static bool check_answer(Answer answer, const Contestant *player, Side us, GameRecord *record, bool *over)
{
    static const Forfeit forfeits[] = {[UCI_ILLEGAL_MOVE] = FORFEIT_ILLEGAL_MOVE,
                                       [UCI_ENDED] = FORFEIT_ENGINE_ENDED,
                                       [UCI_SILENT] = FORFEIT_TIME};
    if (answer != ANSWER_FAULT)
        return answer == ANSWER_GIVEN;
    record->at_fault = us;
    snprintf(record->fault, sizeof record->fault, "%s", contestant_fault_text(player));
    *over = true;
    return lose(record, us, forfeits[contestant_fault(player)]);
}

/* What a move took, in milliseconds, begun ones counted as whole; by nodes if the clock goes by them. */
static int64_t spent_ms(const TimeControl *time, uint64_t nodes, int64_t begun)
{
    return time->pace ? ((int64_t)nodes * 1000 + time->pace - 1) / time->pace : monotonic_ms() - begun;
}

/* Plays one move. False on failure; *over tells whether the player has lost without one. */
static bool play_move(Contestant *player, const MoveRequest *request, Clocks *clocks, Game *game,
                      GameRecord *record, bool *over)
{
    Side us = position_turn(&game->position);
    const TimeControl *time = request->time;
    ChosenMove chosen;
    int64_t begun = monotonic_ms();
    Answer answer = contestant_choose(player, request, &chosen);
    if (answer != ANSWER_GIVEN)
        return check_answer(answer, player, us, record, over);
    if (time->clock_ms) {
        clocks->left_ms[us] -= spent_ms(time, contestant_nodes(player), begun);
        *over = clocks->left_ms[us] <= 0;
        clocks->left_ms[us] += time->increment_ms;
    }
    if (*over)
        return lose(record, us, FORFEIT_TIME);
    record->moves[record->plies] = chosen.move;
    record->left_ms[record->plies] = clocks->left_ms[us];
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
    record->at_fault = -1;
    if (!game_start(&game, start)) {
        complain(NULL, 0, "memory ran out at the start of a game");
        return false;
    }
    bool good = true, over = false;
    for (int side = 0; good && !over && side < 2; side++)
        good = check_answer(contestant_new_game(players[side]), players[side], (Side)side, record, &over);
    while (good && !over && !ended_by_rule(&game, record) && !adjudicated(&streaks, adjudication, record)) {
        Side us = position_turn(&game.position);
        const MoveRequest request = {{start, record->plies, record->moves, &game}, time, &clocks};
        good = !interrupt_number() && play_move(players[us], &request, &clocks, &game, record, &over);
        if (good && !over) {
            int score = record->scores[record->plies - 1];
            count_ply(&streaks, adjudication, us == WHITE ? score : -score);
        }
    }
    game_free(&game);
    return good;
}
