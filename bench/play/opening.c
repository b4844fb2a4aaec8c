#include "bench/play/opening.h"
#include "bench/base/array.h"
#include "bench/base/byte_hash.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/base/random.h"
#include "bench/pgn/epd.h"
#include "bench/play/quiet_start.h"
#include "engine/rules/fen.h"
#include "engine/search/player.h"

#include <stdatomic.h>
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

/* A file that is being read, and where each position is: places in a table with room for twice as many. */
typedef struct Reading {
    OpeningSet *set;
    size_t room;       /* a power of 2, or 0 */
    uint32_t *numbers; /* of openings, from 1 on; 0: free */
} Reading;

/* The place of a position, or the one where it belongs. */
static uint32_t *place_of(const Reading *reading, const Position *position)
{
    size_t at = position->key & (reading->room - 1);
    while (reading->numbers[at] &&
           reading->set->items[reading->numbers[at] - 1].position.key != position->key)
        at = (at + 1) & (reading->room - 1);
    return &reading->numbers[at];
}

static bool make_room(Reading *reading)
{
    if (2 * reading->set->count < reading->room)
        return true;
    free(reading->numbers);
    reading->room = reading->room ? 2 * reading->room : 1024;
    reading->numbers = calloc(reading->room, sizeof *reading->numbers);
    if (!reading->numbers)
        return no_memory();
    for (size_t i = 0; i < reading->set->count; i++)
        *place_of(reading, &reading->set->items[i].position) = (uint32_t)i + 1;
    return true;
}

static bool use_record(void *context, const EpdRecord *record)
{
    Reading *reading = context;
    OpeningSet *set = reading->set;
    char number[32];
    const char *name = epd_text(record, "id"), *stratum = epd_text(record, "c0");
    if (!epd_can_be_played(record))
        return false;
    if (!make_room(reading))
        return false;
    uint32_t *place = place_of(reading, &record->position);
    if (*place) {
        complain(record->file, record->line, "the position is that of opening %s; expected each once",
                 set->items[*place - 1].name);
        return false;
    }
    *place = (uint32_t)set->count + 1;
    snprintf(number, sizeof number, "%ld", record->line);
    return add(set, &record->position, name ? name : number, stratum ? stratum : "all");
}

bool openings_read(OpeningSet *set, const char *path)
{
    Reading reading = {.set = set};
    bool good = epd_read_file(path, use_record, &reading);
    free(reading.numbers);
    return good;
}

/* The length of the first name of a list; *rest is the list behind it. */
static size_t first_name(const char *names, const char **rest)
{
    size_t length = strcspn(names, ",");
    *rest = names[length] == ',' ? names + length + 1 : NULL;
    return length;
}

bool openings_select(OpeningSet *set, const char *names, char unknown[64])
{
    bool wanted[STRATA_MAX] = {false};
    for (const char *rest; names; names = rest) {
        size_t length = first_name(names, &rest);
        int stratum = 0;
        while (stratum < set->stratum_count &&
               (strlen(set->strata[stratum]) != length || memcmp(set->strata[stratum], names, length) != 0))
            stratum++;
        if (stratum == set->stratum_count) {
            snprintf(unknown, 64, "%.*s", (int)(length < 63 ? length : 63), names);
            return false;
        }
        wanted[stratum] = true;
    }
    int numbers[STRATA_MAX], strata = 0;
    for (int i = 0; i < set->stratum_count; i++) {
        numbers[i] = strata;
        if (wanted[i])
            set->strata[strata++] = set->strata[i];
        else
            free(set->strata[i]);
    }
    set->stratum_count = strata;
    size_t kept = 0;
    for (size_t i = 0; i < set->count; i++) {
        if (!wanted[set->items[i].stratum]) {
            free(set->items[i].name);
            continue;
        }
        set->items[kept] = set->items[i];
        set->items[kept++].stratum = numbers[set->items[i].stratum];
    }
    set->count = kept;
    return true;
}

bool openings_read_strata(OpeningSet *set, const char *path, const char *names)
{
    char unknown[64];
    if (!openings_read(set, path))
        return false;
    if (!names || openings_select(set, names, unknown))
        return true;
    complain(path, 0, "has no openings of the stratum \"%s\"; expected --strata with names that are there",
             unknown);
    return false;
}

/* -------------------------------------------------------------------------------------------------- drawn */

enum { DRAW_NODES = 1000 };

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
    const QuietStarts *starts;
    size_t first, count;
    uint64_t seed;
    atomic_bool used_up; /* the starts of an opening (reported) */
} Draw;

static Taken draw_take(void *context, size_t index, void *item)
{
    (void)item;
    return index < ((Draw *)context)->count ? TAKEN_ITEM : TAKEN_END;
}

/* Opening n has the starts n, n + OPENINGS_DRAWN_MOST, n + 2 OPENINGS_DRAWN_MOST, ... for itself alone:
 * dozens, of which most are fit. */
static bool draw_run(void *context, void *own, size_t index, void *item)
{
    Draw *draw = context;
    uint64_t starts = quiet_starts_count(draw->starts);
    for (uint64_t number = draw->first + index; number < starts; number += OPENINGS_DRAWN_MOST) {
        int score;
        if (!quiet_start(draw->starts, draw->seed, number, item))
            continue;
        if (!search_score(own, item, &score))
            return false;
        if (abs(score) <= OPENING_DRAWN_BALANCE)
            return true;
    }
    atomic_store(&draw->used_up, true);
    complain(NULL, 0, "no opening number %zu can be drawn from this seed; expected another seed",
             draw->first + index + 1);
    return false;
}

static bool draw_deliver(void *context, size_t index, void *item)
{
    char name[32];
    const Draw *draw = context;
    snprintf(name, sizeof name, "drawn-%zu", draw->first + index + 1);
    return add(draw->set, item, name, "drawn");
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

bool openings_draw(OpeningSet *set, size_t first, size_t count, uint64_t seed, int workers)
{
    QuietStarts *starts = quiet_starts_new();
    if (!starts)
        return no_memory();
    Draw draw = {.set = set, .starts = starts, .first = first, .count = count, .seed = seed};
    bool good = parallel_run(&(Parallel){.workers = workers,
                                         .item_size = sizeof(Position),
                                         .context = &draw,
                                         .take = draw_take,
                                         .run = draw_run,
                                         .deliver = draw_deliver,
                                         .worker_new = draw_worker_new,
                                         .worker_free = draw_worker_free});
    quiet_starts_free(starts);
    return good || (!atomic_load(&draw.used_up) && no_memory());
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

void openings_count_strata(const OpeningSet *set, size_t counts[STRATA_MAX])
{
    memset(counts, 0, STRATA_MAX * sizeof *counts);
    for (size_t i = 0; i < set->count; i++)
        counts[set->items[i].stratum]++;
}

/* How many of each stratum are among the first `count`, if one of each is taken in turn. */
static void choose(const OpeningSet *set, size_t count, size_t chosen[STRATA_MAX])
{
    size_t there[STRATA_MAX];
    openings_count_strata(set, there);
    memset(chosen, 0, STRATA_MAX * sizeof *chosen);
    for (int stratum = 0; count > 0; stratum = (stratum + 1) % set->stratum_count)
        if (chosen[stratum] < there[stratum]) {
            chosen[stratum]++;
            count--;
        }
}

/* The stratum whose next opening comes first, if the i-th of c stands at (2 i + 1) / 2 c of the way. */
static int next_stratum(int strata, const size_t placed[STRATA_MAX], const size_t chosen[STRATA_MAX])
{
    int best = -1;
    for (int i = 0; i < strata; i++)
        if (placed[i] < chosen[i] &&
            (best < 0 || (2 * placed[i] + 1) * chosen[best] < (2 * placed[best] + 1) * chosen[i]))
            best = i;
    return best;
}

bool openings_arrange(OpeningSet *set, size_t count, uint64_t seed)
{
    Opening *ordered = malloc((set->count + 1) * sizeof *ordered);
    size_t at[STRATA_MAX] = {0}, placed[STRATA_MAX] = {0}, chosen[STRATA_MAX];
    if (!ordered)
        return no_memory();
    shuffle(set, seed);
    if (count > set->count)
        count = set->count;
    choose(set, count, chosen);
    for (size_t filled = 0; filled < count; filled++) {
        int stratum = next_stratum(set->stratum_count, placed, chosen);
        while (set->items[at[stratum]].stratum != stratum)
            at[stratum]++;
        ordered[filled] = set->items[at[stratum]];
        set->items[at[stratum]++].name = NULL;
        placed[stratum]++;
    }
    for (size_t i = 0; i < set->count; i++)
        free(set->items[i].name);
    free(set->items);
    set->items = ordered;
    set->capacity = set->count + 1;
    set->count = count;
    return true;
}

bool openings_get(OpeningSet *set, const char *path, size_t games, uint64_t seed, int workers)
{
    if (!path)
        return openings_draw(set, 0, games, seed, workers);
    if (!openings_read(set, path))
        return false;
    if (set->count == 0) {
        complain(path, 0, "there is no position; expected one to start from");
        return false;
    }
    if (games > set->count) {
        complain(path, 0,
                 "there are %zu openings for %zu games, and games from one opening are copies; expected "
                 "--games %zu at most",
                 set->count, games, set->count);
        return false;
    }
    return openings_arrange(set, set->count, seed);
}

/* --------------------------------------------------------------------------------------------- what is kept */

uint64_t openings_hash(const OpeningSet *set)
{
    uint64_t hash = BYTE_HASH_START;
    for (size_t i = 0; i < set->count; i++) {
        char fen[FEN_SIZE];
        const char *stratum = set->strata[set->items[i].stratum];
        fen_write(&set->items[i].position, fen);
        hash = byte_hash(hash, set->items[i].name, strlen(set->items[i].name) + 1);
        hash = byte_hash(hash, stratum, strlen(stratum) + 1);
        hash = byte_hash(hash, fen, strlen(fen) + 1);
    }
    return hash;
}

void openings_keep(OpeningSet *set, size_t first, size_t count)
{
    for (size_t i = 0; i < set->count; i++)
        if (i < first || i >= first + count)
            free(set->items[i].name);
    memmove(set->items, set->items + first, count * sizeof *set->items);
    set->count = count;
}
