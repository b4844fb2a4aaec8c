#include "bench/ladder/ladder_suite.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/pgn/epd.h"
#include "engine/spar/sparring.h"

#include <stdlib.h>

enum { TABLE_MIB = 1 };

/* What people solved, by rating, of the 24 positions: D. Kopec, I. Bratko, "The Bratko-Kopec experiment: a comparison
 * of human and computer performance in chess", in Advances in Computer Chess 3, 1982. From memory and rounded, so to be
 * taken as good to a position or two. People got parts of a point for second and third choices as well. */
static const struct {
    int rating;
    double solved;
} people[] = {{1300, 4}, {1500, 6}, {1700, 8}, {1900, 10.5}, {2100, 13}, {2300, 16}, {2500, 19}};

enum { PEOPLE = sizeof people / sizeof *people };

static bool add_item(void *context, const EpdRecord *record)
{
    LadderSuite *suite = context;
    char error[EPD_ERROR_SIZE];
    MoveList best;
    if (!epd_moves(record, "bm", &best, error)) {
        complain(record->file, record->line, "%s", error);
        return false;
    }
    if (best.count == 0) {
        complain(record->file, record->line, "names no best move; expected bm and its moves");
        return false;
    }
    if (!array_reserve(suite->items, suite->capacity, suite->count, 1)) {
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    suite->items[suite->count++] = (LadderSuiteItem){record->position, best};
    return true;
}

/* 1 if solved, 0 if not, -1 if memory ran out. */
static int solve(Player *player, const LadderSuiteItem *item, const Sparring *sparring)
{
    Game game;
    SearchResult result;
    SparChoice choice;
    if (!game_start(&game, &item->position)) {
        game_free(&game);
        return -1;
    }
    player_forget(player);
    spar_think(player, sparring, &game, &(SearchLimits){0}, NULL, &result, &choice);
    game_free(&game);
    return move_list_has(&item->best, result.best);
}

/* On average over the seeds; less than 0 if memory ran out. */
static double solved_by(Player *player, const LadderSuite *suite, int elo)
{
    int solved = 0;
    for (int seed = 0; seed < LADDER_SUITE_SEEDS; seed++) {
        for (size_t i = 0; i < suite->count; i++) {
            int one = solve(player, &suite->items[i],
                            &(Sparring){.style = SPAR_OBJECTIVE, .elo = elo, .seed = (uint64_t)seed});
            if (one < 0)
                return -1;
            solved += one;
        }
    }
    return (double)solved / LADDER_SUITE_SEEDS;
}

/* Between the classes of the table it goes evenly, and beyond them as at their ends. */
double ladder_suite_people(int rating)
{
    int i = 1;
    while (i < PEOPLE - 1 && people[i].rating < rating)
        i++;
    double slope = (people[i].solved - people[i - 1].solved) / (people[i].rating - people[i - 1].rating);
    double solved = people[i].solved + slope * (rating - people[i].rating);
    return solved > 0 ? solved : 0;
}

bool ladder_suite_read(LadderSuite *suite, const char *path)
{
    *suite = (LadderSuite){0};
    return epd_read_file(path, add_item, suite);
}

bool ladder_suite_solve(const LadderSuite *suite, Ladder *ladder)
{
    Player *player = player_new(TABLE_MIB);
    bool good = player;
    for (int i = 0; good && i < ladder->count && !interrupt_number(); i++) {
        LadderLevel *level = &ladder->levels[i];
        level->solved = solved_by(player, suite, level->elo);
        good = level->solved >= 0;
    }
    if (!good)
        complain(NULL, 0, "memory ran out");
    player_free(player);
    return good;
}

void ladder_suite_free(LadderSuite *suite)
{
    free(suite->items);
}
