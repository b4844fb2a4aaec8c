#include "bench/ladder/ladder_suite.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/pgn/epd.h"
#include "engine/spar/sparring.h"

#include <stdlib.h>

enum { SEEDS = 10, TABLE_MIB = 1 };

/* What people solved, by rating, of the 24 positions: D. Kopec, I. Bratko, "The Bratko-Kopec experiment: a comparison
 * of human and computer performance in chess", in Advances in Computer Chess 3, 1982. From memory and rounded, so to be
 * taken as good to a position or two. People got parts of a point for second and third choices as well. */
static const struct {
    int rating;
    double solved;
} people[] = {{1300, 4}, {1500, 6}, {1700, 8}, {1900, 10.5}, {2100, 13}, {2300, 16}, {2500, 19}};

enum { PEOPLE = sizeof people / sizeof *people };

typedef struct SuiteItem {
    Position position;
    MoveList best;
} SuiteItem;

typedef struct Suite {
    size_t count, capacity;
    SuiteItem *items;
} Suite;

static bool add_item(void *context, const EpdRecord *record)
{
    Suite *suite = context;
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
    suite->items[suite->count++] = (SuiteItem){record->position, best};
    return true;
}

/* 1 if solved, 0 if not, -1 if memory ran out. */
static int solve(Player *player, const SuiteItem *item, const Sparring *sparring)
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
static double solved_by(Player *player, const Suite *suite, int elo)
{
    int solved = 0;
    for (int seed = 0; seed < SEEDS; seed++) {
        for (size_t i = 0; i < suite->count; i++) {
            int one = solve(player, &suite->items[i],
                            &(Sparring){.style = SPAR_OBJECTIVE, .elo = elo, .seed = (uint64_t)seed});
            if (one < 0)
                return -1;
            solved += one;
        }
    }
    return (double)solved / SEEDS;
}

/* Between the classes of the table it goes evenly, and beyond them as at their ends. */
static double solved_by_people(int rating)
{
    int i = 1;
    while (i < PEOPLE - 1 && people[i].rating < rating)
        i++;
    double slope = (people[i].solved - people[i - 1].solved) / (people[i].rating - people[i - 1].rating);
    double solved = people[i].solved + slope * (rating - people[i].rating);
    return solved > 0 ? solved : 0;
}

bool ladder_suite_print(FILE *out, const char *path, const int *elos, int count)
{
    Suite suite = {0};
    Player *player = player_new(TABLE_MIB);
    bool good = player && epd_read_file(path, add_item, &suite);
    if (good)
        fprintf(out,
                "\nSolved of %zu positions, mean of %d seeds; people: of 24, Kopec and Bratko 1982, from "
                "memory.\n\n"
                " level  solved  people\n",
                suite.count, SEEDS);
    for (int i = 0; good && i < count; i++) {
        double solved = solved_by(player, &suite, elos[i]);
        good = solved >= 0;
        if (good)
            fprintf(out, "%6d  %6.1f  %6.1f\n", elos[i], solved, solved_by_people(elos[i]));
        else
            complain(NULL, 0, "memory ran out");
    }
    if (!player)
        complain(NULL, 0, "memory ran out");
    player_free(player);
    free(suite.items);
    return good;
}
