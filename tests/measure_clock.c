/* For "make bench": how much of the clock is left at some moves of games that the engine plays against itself, and how long
 * its longest move was. What is left when a game is over was of no use. Other clocks and parameters are options; a clock
 * that goes by nodes takes no harm from other work on the machine. */
#include "bench/base/common_options.h"
#include "bench/pgn/epd.h"
#include "bench/play/play.h"

#include <inttypes.h>
#include <stdio.h>

enum { MARKS = 3, MOVES_MOST = 60 };

static const int marks[MARKS] = {20, 40, MOVES_MOST};

/* Each game is played to its end, or to the last of the marks. */
static const Adjudication adjudication = {.longest = 2 * MOVES_MOST};

typedef struct Measure {
    int64_t most_games, table_mib;
    TextList set;
    TimeControl control;
    Contestant *players[2]; /* by Side */
    int games, sides[MARKS], lost;
    double left[MARKS]; /* sums, in percent of the clock */
    int64_t longest_ms;
} Measure;

static void note(Measure *m, const GameRecord *record)
{
    for (int ply = 0; ply < record->plies; ply++) {
        int64_t before = ply < 2 ? m->control.clock_ms : record->left_ms[ply - 2],
                left = record->left_ms[ply];
        int64_t spent = before + m->control.increment_ms - left;
        m->longest_ms = spent > m->longest_ms ? spent : m->longest_ms;
        for (int i = 0; i < MARKS; i++)
            if (ply / 2 + 1 == marks[i]) {
                m->sides[i]++;
                m->left[i] += 100.0 * (double)left / (double)m->control.clock_ms;
            }
    }
    m->lost += record->ending == ending_forfeits[FORFEIT_TIME];
}

static bool measure_game(void *context, const EpdRecord *record)
{
    static GameRecord game;
    Measure *m = context;
    if (m->games == m->most_games)
        return true;
    m->games++;
    if (!play_game(m->players, &record->position, &m->control, &adjudication, &game))
        return false;
    note(m, &game);
    return true;
}

static bool read_options(Measure *m, int argc, char **argv, Status *status)
{
    const Option options[] = {
        {.name = "games",
         .argument = "N",
         .help = "games to play",
         .integer = &m->most_games,
         .least = 1,
         .greatest = 1000},
        {.name = "base",
         .argument = "MS",
         .help = "what is on the clock at first",
         .integer = &m->control.clock_ms,
         .least = 1,
         .greatest = 10000000},
        {.name = "increment",
         .argument = "MS",
         .help = "what each move adds",
         .integer = &m->control.increment_ms,
         .least = 0,
         .greatest = 1000000},
        {.name = "pace",
         .argument = "N",
         .help = "nodes that count as a second; 0: time counts",
         .integer = &m->control.pace,
         .least = 0,
         .greatest = 1000000000},
        table_option(&m->table_mib, "size of each transposition table"),
        {.name = "set", .argument = "NAME=VALUE", .help = "a parameter; as often as needed", .list = &m->set},
        {0},
    };
    static const Usage usage = {"[OPTION]...", "Plays games by the clock and tells how much of it is left."};
    return command_line_read(&usage, options, &argc, &argv, status);
}

int main(int argc, char **argv)
{
    static Measure m = {.most_games = 6, .table_mib = 16, .control = {.clock_ms = 6000, .increment_ms = 60}};
    Arm arms[2] = {default_arm, default_arm};
    Status status;
    if (!read_options(&m, argc, argv, &status))
        return (int)status;
    for (int i = 0; i < m.set.count; i++)
        if (!arms_read_parameter(arms, m.set.items[i]))
            return STATUS_MISUSED;
    for (Side side = WHITE; side <= BLACK; side++)
        if (!(m.players[side] = contestant_new(&arms[side], (int)m.table_mib)))
            return STATUS_FAILED;
    if (!epd_read_file("bench/openings/unseen.epd", measure_game, &m))
        return STATUS_FAILED;
    printf("%d games by a clock of %" PRId64 " ms and %" PRId64
           " ms a move, %d lost on time, longest move %" PRId64 " ms; left of the clock:\n",
           m.games, m.control.clock_ms, m.control.increment_ms, m.lost, m.longest_ms);
    for (int i = 0; i < MARKS; i++)
        if (m.sides[i] > 0)
            printf("    after move %d: %4.1f %% (%d sides)\n", marks[i], m.left[i] / m.sides[i], m.sides[i]);
    for (Side side = WHITE; side <= BLACK; side++)
        contestant_free(m.players[side]);
    return STATUS_DONE;
}
