#include "bench/play/opening.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/base/random.h"
#include "bench/pgn/epd.h"
#include "engine/search/player.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out for the openings");
    return false;
}

/* The number of a stratum, which may be new; -1 on failure. */
static int find_stratum(OpeningSet *set, const char *name)
{
    for (int i = 0; i < set->stratum_count; i++) {
        if (strcmp(set->strata[i], name) == 0)
            return i;
    }
    if (set->stratum_count == STRATA_MAX) {
        complain(NULL, 0, "there are too many strata of openings; expected %d at most", STRATA_MAX);
        return -1;
    }
    char *copy = strdup(name);
    if (!copy)
        return no_memory() - 1;
    set->strata[set->stratum_count] = copy;
    return set->stratum_count++;
}

static bool add(OpeningSet *set, const Position *position, const char *name, const char *stratum)
{
    if (!array_reserve(set->items, set->capacity, set->count, 1))
        return no_memory();
    int number = find_stratum(set, stratum);
    char *copy = number < 0 ? NULL : strdup(name);
    if (!copy)
        return number < 0 ? false : no_memory();
    set->items[set->count++] = (Opening){*position, copy, number};
    return true;
}

void openings_free(OpeningSet *set)
{
    for (size_t i = 0; i < set->count; i++)
        free(set->items[i].name);
    for (int i = 0; i < set->stratum_count; i++)
        free(set->strata[i]);
    free(set->items);
    *set = (OpeningSet){0};
}

/* ------------------------------------------------------------------------------------------ from a file */

static bool use_record(void *context, const EpdRecord *record)
{
    OpeningSet *set = context;
    char number[32];
    const char *name = epd_text(record, "id"), *stratum = epd_text(record, "c0");
    if (record->position.chess960) {
        complain(record->file, record->line,
                 "the position is one of Chess960; expected one of ordinary chess");
        return false;
    }
    if (!movegen_any(&record->position)) {
        complain(record->file, record->line, "the game is over here; expected a position with a legal move");
        return false;
    }
    for (size_t i = 0; i < set->count; i++) {
        if (set->items[i].position.key == record->position.key) {
            complain(record->file, record->line, "the position is that of opening %s; expected each once",
                     set->items[i].name);
            return false;
        }
    }
    snprintf(number, sizeof number, "%ld", record->line);
    return add(set, &record->position, name ? name : number, stratum ? stratum : "all");
}

bool openings_read(OpeningSet *set, const char *path)
{
    return epd_read_file(path, use_record, set);
}

/* -------------------------------------------------------------------------------------------------- drawn */

enum { DRAW_PLIES_LEAST = 6, DRAW_PLIES_MORE = 4, DRAW_NODES = 1000 };

/* Plays random plies. False if the game ends by that. */
static bool random_plies(Position *position, Random *random)
{
    int plies = DRAW_PLIES_LEAST + (int)random_below(random, DRAW_PLIES_MORE);
    for (int i = 0; i < plies; i++) {
        MoveList moves;
        movegen_all(position, &moves);
        if (moves.count == 0)
            return false;
        position_play(position, moves.moves[random_below(random, (uint64_t)moves.count)]);
    }
    return movegen_any(position);
}

static bool search_score(Player *player, const Position *position, int *score)
{
    Game game;
    SearchResult result;
    if (!game_start(&game, position))
        return no_memory();
    player_forget(player);
    player_think(player, &game, &(SearchLimits){.nodes = DRAW_NODES}, NULL, &result);
    game_free(&game);
    *score = result.line.score;
    return true;
}

typedef struct Draw {
    OpeningSet *set;
    size_t count;
    uint64_t seed;
} Draw;

static Taken draw_take(void *context, size_t index, void *item)
{
    (void)item;
    return index < ((Draw *)context)->count ? TAKEN_ITEM : TAKEN_END;
}

static bool draw_run(void *context, void *own, size_t index, void *item)
{
    Random random = random_for_job(((Draw *)context)->seed, index);
    Position *position = item;
    int score;
    do {
        do
            fen_parse(FEN_START, false, position, NULL);
        while (!random_plies(position, &random));
        if (!search_score(own, position, &score))
            return false;
    } while (abs(score) > OPENING_DRAWN_BALANCE);
    return true;
}

static bool draw_deliver(void *context, size_t index, void *item)
{
    char name[32];
    snprintf(name, sizeof name, "drawn-%zu", index + 1);
    return add(((Draw *)context)->set, item, name, "drawn");
}

static void *draw_worker_new(void *context)
{
    (void)context;
    return player_new(1);
}

static void draw_worker_free(void *context, void *own)
{
    (void)context;
    player_free(own);
}

bool openings_draw(OpeningSet *set, size_t count, uint64_t seed, int workers)
{
    Draw draw = {set, count, seed};
    return parallel_run(&(Parallel){.workers = workers,
                                    .item_size = sizeof(Position),
                                    .context = &draw,
                                    .take = draw_take,
                                    .run = draw_run,
                                    .deliver = draw_deliver,
                                    .worker_new = draw_worker_new,
                                    .worker_free = draw_worker_free}) ||
           no_memory();
}

/* ---------------------------------------------------------------------------------------------- the order */

static void shuffle(OpeningSet *set, uint64_t seed)
{
    Random random = random_seeded(seed);
    for (size_t left = set->count; left > 1; left--) {
        size_t other = random_below(&random, left);
        Opening opening = set->items[left - 1];
        set->items[left - 1] = set->items[other];
        set->items[other] = opening;
    }
}

bool openings_arrange(OpeningSet *set, size_t count, uint64_t seed)
{
    Opening *ordered = malloc((set->count + 1) * sizeof *ordered);
    size_t filled = 0, next[STRATA_MAX] = {0};
    if (!ordered)
        return no_memory();
    shuffle(set, seed);
    while (filled < set->count) {
        for (int stratum = 0; stratum < set->stratum_count; stratum++) {
            size_t *at = &next[stratum];
            while (*at < set->count && set->items[*at].stratum != stratum)
                ++*at;
            if (*at < set->count)
                ordered[filled++] = set->items[(*at)++];
        }
    }
    for (size_t i = count; i < filled; i++)
        free(ordered[i].name);
    free(set->items);
    set->items = ordered;
    set->count = count < filled ? count : filled;
    set->capacity = filled + 1;
    return true;
}
