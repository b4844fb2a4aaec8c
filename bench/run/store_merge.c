#include "bench/run/store_merge.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/run/store_check.h"
#include "bench/run/store_plan.h"
#include "bench/run/store_schema.h"
#include "bench/run/stored_run.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Pairs in a row, whose openings are all in one part. A share is one stretch, a partial file may be some. */
typedef struct Stretch {
    int part;
    int64_t first, last;
} Stretch;

typedef struct Merge {
    char *const *paths;
    int parts;
    int64_t *games; /* in each part */
    size_t count, capacity;
    Stretch *stretches; /* by their first pair, from find_stretches() on */
    GameBounds plan;
    int64_t planned_games, found_games;
    bool stops_early; /* by the rule of the experiment: nobody can say how many games it was to have */
} Merge;

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out");
    return false;
}

/* A part for reading, as it is at one moment. */
static bool open_part(Database *part, const Merge *merge, int number)
{
    return stored_run_open(part, merge->paths[number]) && database_run(part, "BEGIN");
}

/* ------------------------------------------------------------------------------------------- what there is */

static bool read_plan(Merge *merge, const Database *part)
{
    sqlite3_int64 matches, pairs, until;
    if (!database_number(part, "SELECT count(*) FROM match", &matches) ||
        !database_number(part, "SELECT sum(pairs) FROM stratum", &pairs) ||
        !database_number(part, "SELECT value <> 'pairs' FROM experiment WHERE name = 'until'", &until))
        return false;
    merge->plan = (GameBounds){.matches = (int)matches, .pairs = (size_t)pairs};
    merge->planned_games = 2 * matches * pairs;
    merge->stops_early = until != 0;
    return true;
}

static bool add_stretch(Merge *merge, Stretch stretch)
{
    if (!array_reserve(merge->stretches, merge->capacity, merge->count, 1))
        return no_memory();
    merge->stretches[merge->count++] = stretch;
    return true;
}

static bool read_stretches(Merge *merge, const Database *part, int number)
{
    Stretch stretch = {.part = number, .last = -1};
    sqlite3_stmt *row = database_prepare(part, "SELECT pair FROM opening ORDER BY pair");
    bool good = row != NULL, any = false;
    while (good && database_step(part, row, &good)) {
        int64_t pair = sqlite3_column_int64(row, 0);
        if (any && pair != stretch.last + 1)
            good = add_stretch(merge, stretch);
        if (!any || pair != stretch.last + 1)
            stretch.first = pair;
        stretch.last = pair;
        any = true;
    }
    sqlite3_finalize(row);
    return good && (!any || add_stretch(merge, stretch));
}

/* What a part has, and whether it is of the experiment that the first is of. */
static bool look_at_part(Merge *merge, const Database *first, int number)
{
    Database part = {0};
    bool good = open_part(&part, merge, number) && store_check_plan(&part) &&
                (number == 0 ? read_plan(merge, &part) : plan_is_the_same(&part, first, true)) &&
                read_stretches(merge, &part, number) &&
                database_number(&part, "SELECT count(*) FROM game", (sqlite3_int64 *)&merge->games[number]);
    merge->found_games += merge->games[number];
    database_close(&part);
    return good;
}

static bool look_at_parts(Merge *merge)
{
    Database first = {0};
    merge->games = calloc((size_t)merge->parts, sizeof *merge->games);
    if (!merge->games)
        return no_memory();
    bool good = open_part(&first, merge, 0);
    for (int i = 0; good && i < merge->parts; i++)
        good = look_at_part(merge, &first, i);
    database_close(&first);
    return good;
}

/* ---------------------------------------------------------------------------------- whether it goes together */

/* What is wrong with a part may well be that it is damaged, which then is said instead. */
static bool games_are_sound(const Merge *merge, int number)
{
    Database part = {0};
    bool good = open_part(&part, merge, number) && store_check_games(&part);
    database_close(&part);
    return good;
}

static int by_first_pair(const void *a, const void *b)
{
    const Stretch *x = a, *y = b;
    if (x->first != y->first)
        return x->first < y->first ? -1 : 1;
    return (x->part > y->part) - (x->part < y->part);
}

static bool are_apart(const Merge *merge)
{
    for (size_t i = 1; i < merge->count; i++) {
        const Stretch *one = &merge->stretches[i - 1], *next = &merge->stretches[i];
        if (next->first > one->last)
            continue;
        int later = one->part > next->part ? one->part : next->part;
        if (games_are_sound(merge, later))
            complain(merge->paths[later], 0, "has pair %" PRId64 ", as %s has; expected it in one part",
                     next->first, merge->paths[one->part + next->part - later]);
        return false;
    }
    return true;
}

/* The first pair that no part has; -1 if there is none. */
static int64_t first_gap(const Merge *merge)
{
    int64_t next = 0;
    for (size_t i = 0; i < merge->count && merge->stretches[i].first == next; i++)
        next = merge->stretches[i].last + 1;
    return next < (int64_t)merge->plan.pairs ? next : -1;
}

/* The pairs that a part has. */
static int64_t pairs_of(const Merge *merge, int part)
{
    int64_t pairs = 0;
    for (size_t i = 0; i < merge->count; i++)
        if (merge->stretches[i].part == part)
            pairs += merge->stretches[i].last - merge->stretches[i].first + 1;
    return pairs;
}

static bool is_complete(const Merge *merge)
{
    int64_t gap = first_gap(merge);
    for (int i = 0; i < merge->parts; i++) {
        int64_t planned = 2 * merge->plan.matches * pairs_of(merge, i);
        if (merge->games[i] == planned)
            continue;
        if (games_are_sound(merge, i))
            complain(merge->paths[i], 0,
                     "has %" PRId64 " of its %" PRId64 " games; expected all of them, or --partial",
                     merge->games[i], planned);
        return false;
    }
    if (gap < 0)
        return true;
    complain(NULL, 0,
             "merge: pair %" PRId64 " of 0 to %zu is in no part, and %" PRId64 " of %" PRId64
             " games are there; expected all shares, or --partial",
             gap, merge->plan.pairs - 1, merge->found_games, merge->planned_games);
    return false;
}

static bool goes_together(Merge *merge, bool partial)
{
    if (merge->count > 0)
        qsort(merge->stretches, merge->count, sizeof *merge->stretches, by_first_pair);
    return are_apart(merge) && (partial || merge->stops_early || is_complete(merge));
}

/* ------------------------------------------------------------------------------------------------- joining */

static bool copy_row(const Database *whole, sqlite3_stmt *insert, sqlite3_stmt *row)
{
    for (int i = 0; i < sqlite3_column_count(row); i++)
        sqlite3_bind_value(insert, i + 1, sqlite3_column_value(row, i));
    return database_finish(whole, insert);
}

/* The settings, arms, matches and strata of the first part are those of all. */
static bool copy_plan(const Database *whole, const Merge *merge)
{
    static const char *const tables[][2] = {
        {"SELECT * FROM experiment WHERE name <> 'share'", "INSERT INTO experiment VALUES (?, ?)"},
        {"SELECT * FROM arm", "INSERT INTO arm VALUES (?, ?, ?, ?, ?, ?)"},
        {"SELECT * FROM match", "INSERT INTO match VALUES (?, ?, ?)"},
        {"SELECT * FROM stratum", "INSERT INTO stratum VALUES (?, ?, ?)"},
    };
    Database part = {0};
    bool good = open_part(&part, merge, 0);
    for (size_t i = 0; good && i < sizeof tables / sizeof *tables; i++) {
        sqlite3_stmt *row = database_prepare(&part, tables[i][0]);
        sqlite3_stmt *insert = database_prepare(whole, tables[i][1]);
        good = row && insert;
        while (good && database_step(&part, row, &good))
            good = copy_row(whole, insert, row);
        sqlite3_finalize(row);
        sqlite3_finalize(insert);
    }
    database_close(&part);
    return good;
}

static bool write_share(const Database *whole, const Merge *merge)
{
    bool all = merge->stops_early || merge->found_games == merge->planned_games;
    sqlite3_stmt *insert = database_prepare(whole, "INSERT INTO experiment VALUES ('share', ?)");
    bool good = insert &&
                sqlite3_bind_text(insert, 1, all ? "1/1" : share_partial, -1, SQLITE_STATIC) == SQLITE_OK &&
                database_finish(whole, insert);
    sqlite3_finalize(insert);
    return good;
}

/* One table and, of the games, one match. */
typedef struct Copy {
    const char *rows; /* with the first and the last pair, and the match, as ?1, ?2, ?3 */
    sqlite3_stmt *insert;
    int match;
    bool games;
} Copy;

static bool copy_stretch(const Database *whole, Merge *merge, const Copy *copy, const Stretch *stretch)
{
    Database part = {0};
    sqlite3_stmt *row = NULL;
    bool good = open_part(&part, merge, stretch->part) && (row = database_prepare(&part, copy->rows));
    if (good) {
        sqlite3_bind_int64(row, 1, stretch->first);
        sqlite3_bind_int64(row, 2, stretch->last);
        if (copy->games)
            sqlite3_bind_int(row, 3, copy->match);
    }
    while (good && database_step(&part, row, &good)) {
        good =
            (!copy->games || game_row_check(&part, row, &merge->plan)) && copy_row(whole, copy->insert, row);
        merge->games[stretch->part] -= copy->games;
    }
    sqlite3_finalize(row);
    database_close(&part);
    return good;
}

/* In the order of the keys, so that the new file only grows at its end. */
static bool copy_rows(const Database *whole, Merge *merge)
{
    Copy openings = {.rows = "SELECT * FROM opening WHERE pair BETWEEN ?1 AND ?2 ORDER BY pair",
                     .insert = database_prepare(whole, "INSERT INTO opening VALUES (?, ?, ?, ?)")};
    Copy games = {.rows =
                      "SELECT * FROM game WHERE match = ?3 AND pair BETWEEN ?1 AND ?2 ORDER BY pair, half",
                  .insert = database_prepare(whole, "INSERT INTO game VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"),
                  .games = true};
    bool good = openings.insert && games.insert;
    for (size_t i = 0; good && i < merge->count; i++)
        good = copy_stretch(whole, merge, &openings, &merge->stretches[i]);
    for (; good && games.match < merge->plan.matches; games.match++)
        for (size_t i = 0; good && i < merge->count; i++)
            good = copy_stretch(whole, merge, &games, &merge->stretches[i]);
    sqlite3_finalize(openings.insert);
    sqlite3_finalize(games.insert);
    return good;
}

/* A row whose key is none would not have been found. */
static bool all_were_copied(const Merge *merge)
{
    for (int i = 0; i < merge->parts; i++) {
        if (merge->games[i] == 0)
            continue;
        if (games_are_sound(merge, i))
            complain(merge->paths[i], 0, "has changed while it was read; expected that nobody plays on it");
        return false;
    }
    return true;
}

/* Into a new and empty file, which is deleted on failure and so needs no journal; messages call it by the name it
 * is to get. */
static bool join(const char *path, const char *temporary, Merge *merge)
{
    Database whole = {0};
    bool good = database_open(&whole, temporary, SQLITE_OPEN_READWRITE);
    whole.path = path;
    good = good && database_run(&whole, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; BEGIN") &&
           schema_create(&whole) && copy_plan(&whole, merge) && write_share(&whole, merge) &&
           copy_rows(&whole, merge) && all_were_copied(merge) && database_run(&whole, "COMMIT");
    database_close(&whole);
    return good;
}

bool store_merge(const char *path, char *const *parts, int count, bool partial)
{
    if (access(path, F_OK) == 0) {
        complain(path, 0, "is there already; expected the name of a new file");
        return false;
    }
    Merge merge = {.paths = parts, .parts = count};
    OutputFile file;
    bool good = look_at_parts(&merge) && goes_together(&merge, partial) && output_open(&file, path);
    if (good && !join(path, file.temporary, &merge)) {
        output_abandon(&file);
        good = false;
    }
    good = good && output_commit(&file);
    free(merge.games);
    free(merge.stretches);
    return good;
}
