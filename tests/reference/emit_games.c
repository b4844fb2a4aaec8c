/* Writes random games as PGN, for census.mjs to count by itself and for timings of the reader. Pawns are
 * pushed more often than chance would, so that chains lock and levers are played; every other game starts
 * from a position of its own, some with the pair already locked.
 *
 *     emit_games COUNT [SEED]      that many games, of 87 plies on average unless they end before */
#include "bench/pgn/pgn_writer.h"
#include "engine/rules/game.h"
#include "tests/engine/rules/playout.h"

/* Locked, about to lock, doubled pawns, near misses, few men. */
static const char *const starts[] = {
    "rnbqkbnr/ppp2ppp/4p3/3p4/3PP3/8/PPP2PPP/RNBQKBNR w KQkq - 0 3",
    "rnbqkbnr/pp3ppp/4p3/2ppP3/3P4/8/PPP2PPP/RNBQKBNR w KQkq c6 0 4",
    "rnbq1rk1/ppp1ppbp/3p1np1/8/2PPP3/2N2N2/PP2BPPP/R1BQK2R b KQ - 3 6",
    "rnbq1rk1/ppp2pbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQK2R b KQ - 0 7",
    "4k3/pp3ppp/3p4/2pPp3/2P1P3/8/PP3PPP/4K3 w - - 0 1",
    "4k3/p2p1p1p/3P1P2/1p1pp1p1/1P1P2P1/4P3/P6P/4K3 w - - 0 1",
    "r3k2r/p4ppp/2p1p3/1pPpP3/1P1P4/2N2N2/5PPP/R3K2R b KQkq - 0 1",
    "6k1/8/4p1p1/3pP1P1/3P4/8/5P2/6K1 w - - 0 1",
};

enum { STARTS = sizeof starts / sizeof *starts, PLIES_LEAST = 30, PLIES_SPREAD = 115 };

static Move choose(Random *random, const Position *position)
{
    MoveList list;
    Move pushes[MOVES_MAX];
    int count = 0;
    if (random_below(random, 3) > 0)
        return playout_move(random, position);
    movegen_all(position, &list);
    for (int i = 0; i < list.count; i++)
        if (position_role(position, move_from(list.moves[i])) == PAWN &&
            file_of(move_from(list.moves[i])) == file_of(move_to(list.moves[i])))
            pushes[count++] = list.moves[i];
    return count ? pushes[random_below(random, (uint64_t)count)] : playout_move(random, position);
}

static void write_game(Random *random, unsigned long number, const Position *start, const Move *moves,
                       int count, const char *result)
{
    static const char *const dates[] = {"2024.01.13", "2024.02.10", "2024.03.09"};
    PgnWriter writer = {.out = stdout};
    Position position = *start;
    char round[24], eco[8], rating[8];
    snprintf(round, sizeof round, "%lu", number);
    pgn_write_roster(&writer, &(PgnRoster){"Random games", "?", dates[number % 3], round, "Upper Mill",
                                           "Lower Quay", result});
    snprintf(eco, sizeof eco, "%c%02u", (int)('A' + random_below(random, 5)),
             (unsigned)random_below(random, 100));
    pgn_write_tag(&writer, "ECO", eco);
    snprintf(rating, sizeof rating, "%u", (unsigned)(900 + random_below(random, 1800)));
    pgn_write_tag(&writer, "WhiteElo", rating);
    snprintf(rating, sizeof rating, "%u", (unsigned)(900 + random_below(random, 1800)));
    pgn_write_tag(&writer, "BlackElo", rating);
    pgn_write_start(&writer, start);
    pgn_begin_moves(&writer);
    for (int i = 0; i < count; i++) {
        pgn_write_move(&writer, &position, moves[i]);
        position_play(&position, moves[i]);
    }
    pgn_end_game(&writer, result);
}

static void emit_game(Random *random, unsigned long number)
{
    static const char *const results[] = {"1-0", "0-1", "1/2-1/2", "*"};
    Position start = playout_read(number % 2 ? FEN_START : starts[number / 2 % STARTS], false),
             position = start;
    Move moves[PLIES_LEAST + PLIES_SPREAD];
    int wanted = PLIES_LEAST + (int)random_below(random, PLIES_SPREAD), count = 0;
    for (; count < wanted; count++) {
        moves[count] = choose(random, &position);
        if (moves[count] == NO_MOVE)
            break;
        position_play(&position, moves[count]);
    }
    const char *result = results[random_below(random, 4)];
    if (count < wanted && position_in_check(&position))
        result = position_turn(&position) == WHITE ? "0-1" : "1-0";
    write_game(random, number, &start, moves, count, result);
}

int main(int argc, char **argv)
{
    long count = argc >= 2 ? atol(argv[1]) : 0;
    uint64_t seed = argc == 3 ? (uint64_t)atol(argv[2]) : 1;
    if (count <= 0 || argc > 3) {
        fprintf(stderr, "usage: emit_games COUNT [SEED]\n");
        return 2;
    }
    for (long number = 1; number <= count; number++) {
        Random random = random_for_job(seed, (uint64_t)number);
        emit_game(&random, (unsigned long)number);
    }
    return 0;
}
