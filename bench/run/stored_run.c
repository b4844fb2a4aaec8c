#include "bench/run/stored_run.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/run/store_check.h"
#include "bench/run/store_schema.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

bool stored_run_open(Database *database, const char *path)
{
    *database = (Database){.path = path};
    if (access(path, R_OK) != 0) {
        complain(path, 0, "cannot be read; expected the file of a run");
        return false;
    }
    if (!database_open(database, path, SQLITE_OPEN_READONLY))
        return false;
    SchemaState state = schema_look(database);
    if (state == SCHEMA_EMPTY)
        complain(path, 0, "is empty; expected the file of a run");
    return state == SCHEMA_PRESENT;
}

static bool no_memory(const Database *database)
{
    complain(database->path, 0, "memory ran out");
    return false;
}

static bool too_many(const Database *database, const char *what, int most)
{
    complain(database->path, 0, "has too many %s; expected %d at most", what, most);
    return false;
}

static char *copy_text(sqlite3_stmt *row, int column)
{
    return strdup(database_text(row, column));
}

static bool read_setting(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (run->setting_count == SETTINGS_MAX)
        return too_many(database, "settings", SETTINGS_MAX);
    StoredSetting *setting = &run->settings[run->setting_count++];
    *setting = (StoredSetting){copy_text(row, 0), copy_text(row, 1)};
    return (setting->name && setting->value) || no_memory(database);
}

static bool read_arm(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (run->arm_count == ARMS_MAX)
        return too_many(database, "arms", ARMS_MAX);
    StoredArm *arm = &run->arms[run->arm_count++];
    *arm = (StoredArm){.weight = sqlite3_column_int(row, 0),
                       .rule = copy_text(row, 1),
                       .nodes = sqlite3_column_int64(row, 2),
                       .parameters = copy_text(row, 3),
                       .engine = copy_text(row, 4)};
    return (arm->rule && arm->parameters && arm->engine) || no_memory(database);
}

static bool read_match(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (run->match_count == MATCHES_MAX)
        return too_many(database, "matches", MATCHES_MAX);
    StoredMatch *match = &run->matches[run->match_count++];
    match->arm_a = sqlite3_column_int(row, 0);
    match->arm_b = sqlite3_column_int(row, 1);
    match->lost_on_time = (size_t)sqlite3_column_int64(row, 2);
    return true;
}

static bool read_stratum(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (run->stratum_count == STRATA_MAX)
        return too_many(database, "strata", STRATA_MAX);
    run->strata[run->stratum_count] = copy_text(row, 0);
    run->planned_pairs += (size_t)sqlite3_column_int64(row, 1);
    return run->strata[run->stratum_count++] || no_memory(database);
}

static bool read_opening(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (!array_reserve(run->openings, run->opening_capacity, run->opening_count, 1))
        return no_memory(database);
    run->openings[run->opening_count] = copy_text(row, 0);
    return run->openings[run->opening_count++] || no_memory(database);
}

static int stratum_number(const StoredRun *run, const char *name)
{
    int number = 0;
    while (number < run->stratum_count && strcmp(run->strata[number], name) != 0)
        number++;
    return number;
}

static bool read_pair(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    StoredMatch *match = &run->matches[sqlite3_column_int(row, 0)];
    int stratum = stratum_number(run, database_text(row, 2));
    if (stratum == run->stratum_count) /* SQLite had none left for the name */
        return no_memory(database);
    if (!array_reserve(match->pairs, match->capacity, match->count, 1))
        return no_memory(database);
    match->pairs[match->count++] = (StoredPair){sqlite3_column_int(row, 1), stratum,
                                                sqlite3_column_int(row, 3), sqlite3_column_int(row, 4) == 1};
    return true;
}

static const struct {
    const char *query;
    bool (*read)(StoredRun *run, const Database *database, sqlite3_stmt *row);
} parts[] = {
    {"SELECT name, value FROM experiment ORDER BY name", read_setting},
    {"SELECT weight, rule, nodes, parameters, engine FROM arm ORDER BY arm", read_arm},
    {"SELECT arm_a, arm_b, (SELECT count(*) FROM game WHERE game.match = match.match AND ending = 'time')"
     " FROM match ORDER BY match",
     read_match},
    {"SELECT stratum, count(*) FROM opening GROUP BY stratum ORDER BY min(pair)", read_stratum},
    {"SELECT fen FROM opening ORDER BY pair", read_opening},
    {"SELECT match, pair, stratum, points_a, (SELECT count(DISTINCT moves) FROM game AS g"
     " WHERE g.match = p.match AND g.pair = p.pair) FROM pair_result AS p ORDER BY match, pair",
     read_pair},
};

bool stored_run_read(StoredRun *run, const Database *database)
{
    *run = (StoredRun){0};
    /* One transaction, so that a file that grows is seen as it was at one moment. */
    if (!database_run(database, "BEGIN"))
        return false;
    bool good = store_check(database);
    for (size_t i = 0; good && i < sizeof parts / sizeof *parts; i++) {
        sqlite3_stmt *row = database_prepare(database, parts[i].query);
        good = row != NULL;
        while (good && database_step(database, row, &good))
            good = parts[i].read(run, database, row);
        sqlite3_finalize(row);
    }
    if (good)
        return database_run(database, "COMMIT");
    /* Reported already. */
    sqlite3_exec(database->handle, "ROLLBACK", NULL, NULL, NULL);
    return false;
}

void stored_run_free(StoredRun *run)
{
    for (int i = 0; i < run->setting_count; i++) {
        free(run->settings[i].name);
        free(run->settings[i].value);
    }
    for (int i = 0; i < run->arm_count; i++) {
        free(run->arms[i].rule);
        free(run->arms[i].parameters);
        free(run->arms[i].engine);
    }
    for (int i = 0; i < run->match_count; i++)
        free(run->matches[i].pairs);
    for (int i = 0; i < run->stratum_count; i++)
        free(run->strata[i]);
    for (size_t i = 0; i < run->opening_count; i++)
        free(run->openings[i]);
    free(run->openings);
    *run = (StoredRun){0};
}

const char *stored_setting(const StoredRun *run, const char *name)
{
    for (int i = 0; i < run->setting_count; i++) {
        if (strcmp(run->settings[i].name, name) == 0)
            return run->settings[i].value;
    }
    return NULL;
}

void stored_arm_text(const StoredArm *arm, char text[ARM_TEXT_SIZE])
{
    size_t length = (size_t)snprintf(text, ARM_TEXT_SIZE, "weight %d, %s", arm->weight, arm->rule);
    if (arm->nodes)
        length +=
            (size_t)snprintf(text + length, ARM_TEXT_SIZE - length, ", %" PRId64 " nodes a move", arm->nodes);
    if (*arm->parameters && length < ARM_TEXT_SIZE)
        snprintf(text + length, ARM_TEXT_SIZE - length, ", %s", arm->parameters);
}

bool stored_games_each(const Database *database, bool (*use)(void *context, const StoredGame *game),
                       void *context)
{
    sqlite3_stmt *row =
        database_prepare(database, "SELECT match, pair, half, name, stratum, fen, white_points, ending, moves"
                                   " FROM game JOIN opening USING (pair) ORDER BY match, pair, half");
    bool good = row != NULL;
    while (good && database_step(database, row, &good)) {
        StoredGame game = {
            .key = {sqlite3_column_int(row, 0), sqlite3_column_int(row, 1), sqlite3_column_int(row, 2)},
            .opening = database_text(row, 3),
            .stratum = database_text(row, 4),
            .fen = database_text(row, 5),
            .white_points = sqlite3_column_int(row, 6),
            .ending = database_text(row, 7),
            .moves = database_text(row, 8)};
        good = use(context, &game);
    }
    sqlite3_finalize(row);
    return good;
}
