/* Timings for "make bench": how fast moves are generated, positions searched, and how good the first move is.
 * Figures of one thread; nothing here passes or fails. */
#include "bench/epd.h"
#include "bench/monotonic.h"
#include "engine/player.h"
#include "tests/playout.h"

#include <inttypes.h>

enum { SEARCH_NODES = 500000, TABLE_MIB = 64 };

static void measure_perft(const char *name, const char *fen, int depth)
{
    Position position = playout_read(fen, false);
    double start = monotonic_seconds();
    uint64_t leaves = perft(&position, depth);
    double seconds = monotonic_seconds() - start;
    printf("perft, %-20s depth %d: %11" PRIu64 " leaves in %6.3f s, %7.1f million a second\n", name, depth,
           leaves, seconds, (double)leaves / seconds / 1e6);
}

typedef struct Sums {
    Player *player;
    uint64_t nodes, cutoffs, first_move_cutoffs;
    double seconds;
    int positions, depths;
} Sums;

static bool measure_search(void *context, const EpdRecord *record)
{
    Sums *sums = context;
    Game game;
    SearchResult result;
    if (!game_start(&game, &record->position))
        return false;
    player_forget(sums->player);
    double start = monotonic_seconds();
    player_think(sums->player, &game, &(SearchLimits){.nodes = SEARCH_NODES}, NULL, NULL, &result);
    sums->seconds += monotonic_seconds() - start;
    game_free(&game);
    sums->nodes += result.nodes;
    sums->cutoffs += result.cutoffs;
    sums->first_move_cutoffs += result.first_move_cutoffs;
    sums->depths += result.line.depth;
    sums->positions++;
    return true;
}

static bool measure_searches(int lever_weight)
{
    Sums sums = {.player = player_new(TABLE_MIB)};
    if (!sums.player)
        return false;
    player_settings(sums.player)->lever_weight = lever_weight;
    bool good = epd_read_file("bench/positions/bratko-kopec.epd", measure_search, &sums);
    player_free(sums.player);
    if (good)
        printf("search, lever weight %3d: %d positions, %d nodes each: %.3f million nodes a second, mean "
               "depth %.1f, "
               "first move cuts off %.1f %%\n",
               lever_weight, sums.positions, SEARCH_NODES, (double)sums.nodes / sums.seconds / 1e6,
               (double)sums.depths / sums.positions,
               100.0 * (double)sums.first_move_cutoffs / (double)sums.cutoffs);
    return good;
}

int main(void)
{
    setvbuf(stdout, NULL, _IOLBF, 0);
    measure_perft("initial position", FEN_START, 7);
    measure_perft("middlegame", "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1", 5);
    return measure_searches(0) && measure_searches(100) ? 0 : 1;
}
