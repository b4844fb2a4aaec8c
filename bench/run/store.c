#include "bench/run/store.h"
#include "bench/base/complaint.h"
#include "bench/run/store_check.h"
#include "bench/run/store_plan.h"
#include "bench/run/store_schema.h"
#include "engine/rules/notation.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/utsname.h>
#include <unistd.h>

enum { MACHINE_SIZE = 256, MOVES_TEXT_SIZE = GAME_PLIES_MAX * 8 };

struct Store {
    Database database;
    int lock_file; /* keeps other processes from playing on the same file */
    sqlite3_stmt *insert;
    pthread_mutex_t mutex; /* of insert and failed */
    bool failed;           /* a game could not be added (reported), and no more are taken */
    size_t pairs;
    int8_t *points; /* by match, pair, half; -1: not played */
    char machine[MACHINE_SIZE];
};

/* "host, x86_64, the processor's name" */
static void describe_machine(char text[MACHINE_SIZE])
{
    struct utsname system;
    char line[256], processor[128] = "";
    FILE *file = fopen("/proc/cpuinfo", "r");
    while (file && !*processor && fgets(line, sizeof line, file))
        sscanf(line, "model name : %127[^\n]", processor);
    if (file)
        fclose(file);
    uname(&system);
    snprintf(text, MACHINE_SIZE, "%.60s, %.20s%s%s", system.nodename, system.machine, *processor ? ", " : "",
             processor);
}

/* Locks the file itself, for as long as the process lives. It must be closed after the database is: closing a
 * file drops the locks that SQLite holds on it in this process. */
static bool lock(Store *store, const char *path)
{
    store->lock_file = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    if (store->lock_file < 0) {
        complain(path, 0, "cannot be written: %s; expected a place for the file of a run", strerror(errno));
        return false;
    }
    if (flock(store->lock_file, LOCK_EX | LOCK_NB) == 0)
        return true;
    complain(path, 0, "another process is playing on it; expected to be alone");
    return false;
}

static bool create(const Database *database, const Experiment *experiment, Share share)
{
    if (database_run(database, "BEGIN IMMEDIATE") && schema_create(database) &&
        plan_write(database, experiment, share) && database_run(database, "COMMIT"))
        return true;
    sqlite3_exec(database->handle, "ROLLBACK", NULL, NULL, NULL);
    return false;
}

static bool compare(const Database *database, const Experiment *experiment, Share share)
{
    Database expected = {0};
    bool good = database_open(&expected, ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY) &&
                create(&expected, experiment, share) && plan_is_the_same(database, &expected, false);
    database_close(&expected);
    return good;
}

static int8_t *points_at(const Store *store, GameKey key)
{
    return &store->points[((size_t)key.match * store->pairs + (size_t)key.pair) * 2 + (size_t)key.half];
}

/* As for a run of which no game has been played. */
static bool make_points(Store *store, const Experiment *experiment)
{
    size_t games = (size_t)experiment->match_count * experiment->openings.count * 2;
    store->pairs = experiment->openings.count;
    store->points = malloc(games + 1);
    if (!store->points) {
        complain(NULL, 0, "memory ran out for the games of the run");
        return false;
    }
    memset(store->points, -1, games);
    return true;
}

static bool load_points(Store *store)
{
    sqlite3_stmt *query =
        database_prepare(&store->database, "SELECT match, pair, half, white_points FROM game");
    bool good = query != NULL;
    while (good && database_step(&store->database, query, &good)) {
        GameKey key = {sqlite3_column_int(query, 0), sqlite3_column_int(query, 1),
                       sqlite3_column_int(query, 2)};
        *points_at(store, key) = (int8_t)sqlite3_column_int(query, 3);
    }
    sqlite3_finalize(query);
    return good;
}

/* In one transaction: what is loaded is what has been checked. */
static bool load(Store *store, const Experiment *experiment, Share share)
{
    const Database *database = &store->database;
    return database_run(database, "BEGIN") && store_check(database) && compare(database, experiment, share) &&
           load_points(store) && database_run(database, "COMMIT");
}

static bool open_database(Store *store, const char *path, const Experiment *experiment, Share share)
{
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_FULLMUTEX;
    if ((path && !lock(store, path)) || !database_open(&store->database, path ? path : ":memory:", flags))
        return false;
    SchemaState state = schema_look(&store->database);
    if (state == SCHEMA_FOREIGN || (state == SCHEMA_PRESENT && !load(store, experiment, share)))
        return false;
    return database_run(&store->database, "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;") &&
           (state == SCHEMA_PRESENT || create(&store->database, experiment, share));
}

Store *store_open(const char *path, const Experiment *experiment, Share share)
{
    Store *store = calloc(1, sizeof *store);
    if (!store) {
        complain(NULL, 0, "memory ran out");
        return NULL;
    }
    store->lock_file = -1;
    pthread_mutex_init(&store->mutex, NULL);
    describe_machine(store->machine);
    if (make_points(store, experiment) && open_database(store, path, experiment, share)) {
        store->insert =
            database_prepare(&store->database, "INSERT INTO game VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
        if (store->insert)
            return store;
    }
    store_close(store);
    return NULL;
}

void store_close(Store *store)
{
    if (!store)
        return;
    sqlite3_finalize(store->insert);
    database_close(&store->database);
    if (store->lock_file >= 0)
        close(store->lock_file);
    pthread_mutex_destroy(&store->mutex);
    free(store->points);
    free(store);
}

int store_points(const Store *store, GameKey key)
{
    return *points_at(store, key);
}

static void write_moves(const Position *start, const GameRecord *record, char *moves, char *scores)
{
    Position position = *start;
    *moves = *scores = '\0';
    for (int i = 0; i < record->plies; i++) {
        char text[MOVE_TEXT_SIZE];
        lan_write(&position, record->moves[i], text);
        moves += sprintf(moves, "%s%s", i > 0 ? " " : "", text);
        scores += sprintf(scores, "%s%d", i > 0 ? " " : "", record->scores[i]);
        position_play(&position, record->moves[i]);
    }
}

bool store_add(Store *store, GameKey key, const Position *start, const GameRecord *record)
{
    char moves[MOVES_TEXT_SIZE], scores[MOVES_TEXT_SIZE];
    write_moves(start, record, moves, scores);
    pthread_mutex_lock(&store->mutex);
    sqlite3_stmt *insert = store->insert;
    sqlite3_bind_int(insert, 1, key.match);
    sqlite3_bind_int(insert, 2, key.pair);
    sqlite3_bind_int(insert, 3, key.half);
    sqlite3_bind_int(insert, 4, record->white_points);
    sqlite3_bind_text(insert, 5, record->ending, -1, SQLITE_STATIC);
    sqlite3_bind_int(insert, 6, record->plies);
    sqlite3_bind_text(insert, 7, moves, -1, SQLITE_STATIC);
    sqlite3_bind_text(insert, 8, scores, -1, SQLITE_STATIC);
    sqlite3_bind_text(insert, 9, store->machine, -1, SQLITE_STATIC);
    bool good = !store->failed && database_finish(&store->database, insert);
    store->failed = !good;
    sqlite3_clear_bindings(insert);
    pthread_mutex_unlock(&store->mutex);
    return good;
}

bool store_drop_from(Store *store, int pair)
{
    sqlite3_stmt *drop = database_prepare(&store->database, "DELETE FROM game WHERE pair >= ?");
    bool good =
        drop && sqlite3_bind_int(drop, 1, pair) == SQLITE_OK && database_finish(&store->database, drop);
    sqlite3_finalize(drop);
    return good;
}

const Database *store_database(const Store *store)
{
    return &store->database;
}
