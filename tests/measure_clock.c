/* For "make bench": how much of the clock is left at some moves of games that the engine plays against itself, and how long
 * its longest move was. What is left when a game is over was of no use. */
#include "bench/base/monotonic.h"
#include "bench/pgn/epd.h"
#include "bench/play/contestant.h"

#include <stdio.h>

enum { GAMES = 6, TABLE_MIB = 16, BASE_MS = 6000, INCREMENT_MS = 60 };
enum { MARKS = 3, MOVES_MOST = 60 };

static const TimeControl control = {.clock_ms = BASE_MS, .increment_ms = INCREMENT_MS};
static const int marks[MARKS] = {20, 40, MOVES_MOST};

typedef struct Measure {
    Contestant *players[2]; /* by Side */
    int games, sides[MARKS], lost;
    double left[MARKS]; /* sums, in percent of BASE_MS */
    int64_t longest_ms;
} Measure;

/* Plays a move by the clock. False on failure; *on tells whether the game goes on. */
static bool play_move(Measure *m, Game *game, Clocks *clocks, bool *on)
{
    const Side us = position_turn(&game->position);
    const MoveRequest request = {{.game = game}, &control, clocks};
    ChosenMove chosen;
    int64_t begun = monotonic_ms();
    if (contestant_choose(m->players[us], &request, &chosen) != ANSWER_GIVEN)
        return false;
    int64_t spent = monotonic_ms() - begun;
    clocks->left_ms[us] -= spent;
    m->longest_ms = spent > m->longest_ms ? spent : m->longest_ms;
    *on = clocks->left_ms[us] > 0;
    m->lost += !*on;
    clocks->left_ms[us] += INCREMENT_MS;
    return game_play(game, chosen.move);
}

static void note(Measure *m, int move, int64_t left_ms)
{
    for (int i = 0; i < MARKS; i++)
        if (move == marks[i]) {
            m->sides[i]++;
            m->left[i] += 100.0 * (double)left_ms / BASE_MS;
        }
}

static bool measure_game(void *context, const EpdRecord *record)
{
    Measure *m = context;
    Game game;
    Clocks clocks = {{BASE_MS, BASE_MS}};
    if (m->games == GAMES)
        return true;
    m->games++;
    bool good = game_start(&game, &record->position), on = true;
    for (Side side = WHITE; good && side <= BLACK; side++)
        good = contestant_new_game(m->players[side]) == ANSWER_GIVEN;
    for (int ply = 0; good && on && ply < 2 * MOVES_MOST && game_end(&game, true) == GAME_GOES_ON; ply++) {
        Side us = position_turn(&game.position);
        good = play_move(m, &game, &clocks, &on);
        note(m, ply / 2 + 1, clocks.left_ms[us]);
    }
    game_free(&game);
    return good;
}

int main(void)
{
    static Measure m;
    for (Side side = WHITE; side <= BLACK; side++)
        if (!(m.players[side] = contestant_new(&default_arm, TABLE_MIB)))
            return 1;
    if (!epd_read_file("bench/openings/unseen.epd", measure_game, &m))
        return 1;
    printf("%d games by a clock of %d s and %d ms a move, %d lost on time, longest move %.2f s; left of the "
           "%d s:\n",
           GAMES, BASE_MS / 1000, INCREMENT_MS, m.lost, (double)m.longest_ms / 1000, BASE_MS / 1000);
    for (int i = 0; i < MARKS; i++)
        if (m.sides[i] > 0)
            printf("    after move %d: %4.1f %% (%d sides)\n", marks[i], m.left[i] / m.sides[i], m.sides[i]);
    for (Side side = WHITE; side <= BLACK; side++)
        contestant_free(m.players[side]);
    return 0;
}
