#include "bench/run/store.h"
#include "bench/base/complaint.h"
#include "bench/run/store_check.h"
#include "bench/run/store_lock.h"
#include "bench/run/store_plan.h"
#include "bench/run/store_schema.h"

#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/utsname.h>
#include <unistd.h>

enum { MACHINE_SIZE = 256, SETTLE_MS = 1000 };

struct Store {
    Database database;
    StoreLock lock;
    bool is_file;
    sqlite3_stmt *insert;
    pthread_mutex_t mutex;    /* of insert and failed */
    bool failed;              /* a game could not be added (reported), and no more are taken */
    size_t first_pair, pairs; /* of the share */
    int8_t *points;           /* by match, pair, half; -1: not played */
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

/* SQLite would open what it may only read, and fail at the first game. */
static bool can_be_written(const char *path)
{
    int descriptor = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    if (descriptor >= 0)
        return close(descriptor) == 0;
    complain(path, 0, "cannot be written: %s; expected a place for the file of a run", strerror(errno));
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
    return &store->points[((size_t)key.match * store->pairs + (size_t)key.pair - store->first_pair) * 2 +
                          (size_t)key.half];
}

/* As for a run of which no game has been played. */
static bool make_points(Store *store, const Experiment *experiment)
{
    size_t games = (size_t)experiment->match_count * experiment->openings.count * 2;
    store->first_pair = experiment->first_pair;
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
    return database_run(database, "BEGIN") && store_check(database) &&
           (share.of > 1 || plan_complete(database, experiment)) && compare(database, experiment, share) &&
           load_points(store) && database_run(database, "COMMIT");
}

static bool open_database(Store *store, const char *path, const Experiment *experiment, Share share)
{
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_FULLMUTEX;
    if (path) {
        store->lock = store_lock(path);
        if (store->lock.descriptor < 0 || !can_be_written(path))
            return false;
    }
    if (!database_open(&store->database, path ? path : ":memory:", flags))
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
    store->lock.descriptor = -1;
    pthread_mutex_init(&store->mutex, NULL);
    store->is_file = path != NULL;
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

/* A file in WAL mode can be read only where SQLite can write beside it. One that somebody is reading stays so. */
static void settle(const Database *database)
{
    sqlite3_busy_timeout(database->handle, SETTLE_MS);
    sqlite3_exec(database->handle, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL);
}

void store_close(Store *store)
{
    if (!store)
        return;
    sqlite3_finalize(store->insert);
    if (store->insert && store->is_file)
        settle(&store->database);
    database_close(&store->database);
    store_unlock(&store->lock);
    pthread_mutex_destroy(&store->mutex);
    free(store->points);
    free(store);
}

int store_points(const Store *store, GameKey key)
{
    return *points_at(store, key);
}

/* Two bytes, the lower first. */
static void put(unsigned char *at, unsigned value)
{
    at[0] = value & 0xff;
    at[1] = (value >> 8) & 0xff;
}

/* The rest of the run would go to a file that nobody finds. */
static bool is_in_place(const Store *store)
{
    int moved = 0;
    if (!store->is_file ||
        sqlite3_file_control(store->database.handle, "main", SQLITE_FCNTL_HAS_MOVED, &moved) != SQLITE_OK ||
        !moved)
        return true;
    complain(store->database.path, 0,
             "was moved, replaced or deleted during the run; expected it to stay in its place");
    return false;
}

bool store_add(Store *store, GameKey key, const GameRecord *record)
{
    unsigned char moves[2 * GAME_PLIES_MAX], scores[2 * GAME_PLIES_MAX];
    for (int i = 0; i < record->plies; i++) {
        put(&moves[2 * i], record->moves[i]);
        put(&scores[2 * i], (unsigned)record->scores[i]);
    }
    pthread_mutex_lock(&store->mutex);
    sqlite3_stmt *insert = store->insert;
    sqlite3_bind_int(insert, 1, key.match);
    sqlite3_bind_int(insert, 2, key.pair);
    sqlite3_bind_int(insert, 3, key.half);
    sqlite3_bind_int(insert, 4, record->white_points);
    sqlite3_bind_text(insert, 5, record->ending, -1, SQLITE_STATIC);
    sqlite3_bind_int(insert, 6, record->plies);
    sqlite3_bind_blob(insert, 7, moves, 2 * record->plies, SQLITE_STATIC);
    sqlite3_bind_blob(insert, 8, scores, 2 * record->plies, SQLITE_STATIC);
    sqlite3_bind_text(insert, 9, store->machine, -1, SQLITE_STATIC);
    bool good = !store->failed && is_in_place(store) && database_finish(&store->database, insert);
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
