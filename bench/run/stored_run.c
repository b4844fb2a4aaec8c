#include "bench/run/stored_run.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/utf8.h"
#include "bench/run/store_check.h"
#include "bench/run/store_schema.h"
#include "engine/rules/fen.h"

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

/* As it is printed: a file may say anything. */
static char *copy_text(sqlite3_stmt *row, int column)
{
    char *text = strdup(database_text(row, column));
    if (text)
        utf8_hide_controls(text);
    return text;
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
    return true;
}

static bool read_stratum(StoredRun *run, const Database *database, sqlite3_stmt *row)
{
    if (run->stratum_count == STRATA_MAX)
        return too_many(database, "strata", STRATA_MAX);
    int number = run->stratum_count++;
    run->strata[number] = strdup(database_text(row, 0)); /* openings have it as it is, until they are read */
    run->stratum_pairs[number] = (size_t)sqlite3_column_int64(row, 1);
    run->planned_pairs += run->stratum_pairs[number];
    return run->strata[number] || no_memory(database);
}

static const struct {
    const char *query;
    bool (*read)(StoredRun *run, const Database *database, sqlite3_stmt *row);
} plan[] = {
    {"SELECT name, value FROM experiment ORDER BY name", read_setting},
    {"SELECT weight, rule, nodes, parameters, engine FROM arm ORDER BY arm", read_arm},
    {"SELECT arm_a, arm_b FROM match ORDER BY match", read_match},
    {"SELECT name, pairs FROM stratum ORDER BY stratum", read_stratum},
};

static bool read_plan(StoredRun *run, const Database *database)
{
    bool good = store_check_plan(database);
    for (size_t i = 0; good && i < sizeof plan / sizeof *plan; i++) {
        sqlite3_stmt *row = database_prepare(database, plan[i].query);
        good = row != NULL;
        while (good && database_step(database, row, &good))
            good = plan[i].read(run, database, row);
        sqlite3_finalize(row);
    }
    return good;
}

static int stratum_number(const StoredRun *run, const char *name)
{
    int number = 0;
    while (number < run->stratum_count && strcmp(run->strata[number], name) != 0)
        number++;
    return number;
}

/* What is known of an opening while the games are read. */
typedef struct Start {
    Position position;
    NamedLever named[2]; /* by Side */
} Start;

/* Without a word on what is no position: the file may have been changed, and games are checked elsewhere. */
static void read_start(Start *start, const char *fen)
{
    if (fen_parse(fen, true, &start->position, NULL) == FEN_OK)
        named_levers(&start->position, start->named);
    else
        start->named[WHITE] = start->named[BLACK] = (NamedLever){NAMED_NOTHING, NO_SQUARE};
}

/* Into the plan, and the strata by pair. */
static bool read_openings(StoredRun *run, const Database *database, uint8_t *strata)
{
    run->opening_count = run->planned_pairs;
    run->openings = calloc(run->opening_count + 1, sizeof *run->openings);
    if (!run->openings)
        return no_memory(database);
    sqlite3_stmt *row = database_prepare(database, "SELECT pair, stratum, fen FROM opening ORDER BY pair");
    bool good = row != NULL;
    while (good && database_step(database, row, &good)) {
        int pair = sqlite3_column_int(row, 0), stratum = stratum_number(run, database_text(row, 1));
        run->openings[pair] = copy_text(row, 2);
        good = (run->openings[pair] && stratum < run->stratum_count) || no_memory(database);
        strata[pair] = (uint8_t)stratum;
    }
    sqlite3_finalize(row);
    for (int i = 0; i < run->stratum_count; i++)
        utf8_hide_controls(run->strata[i]);
    return good;
}

/* As store_schema.c says. */
static Move move_of_bytes(const unsigned char bytes[2])
{
    return (Move)(bytes[0] | bytes[1] << 8);
}

static bool add_pair(StoredMatch *match, const Database *database, StoredPair pair)
{
    if (!array_reserve(match->pairs, match->capacity, match->count, 1))
        return no_memory(database);
    match->pairs[match->count++] = pair;
    return true;
}

/* When a named lever was played, 0 for never, and whether a misleading plan had come to name it as live by then. */
typedef struct NamedPush {
    int ply;
    bool asked;
} NamedPush;

/* The first game of a pair, until the second comes. */
typedef struct FirstGame {
    GameKey key;
    int points, size;
    Start start;
    NamedPush named[2]; /* by Side */
    unsigned char moves[2 * GAME_PLIES_MAX];
} FirstGame;

/* When each side played what its plan names, and whether it was asked to. */
static void read_named(const Start *start, const unsigned char *bytes, int size, NamedPush pushes[2])
{
    Move moves[GAME_PLIES_MAX];
    if (start->named[WHITE].kind == NAMED_NOTHING && start->named[BLACK].kind == NAMED_NOTHING)
        size = 0;
    for (int i = 0; i < size / 2; i++)
        moves[i] = move_of_bytes(bytes + 2 * i);
    for (Side side = WHITE; side <= BLACK; side++) {
        const NamedLever *lever = &start->named[side];
        NamedPush *push = &pushes[side];
        *push = (NamedPush){0, false};
        if (lever->kind == NAMED_NOTHING)
            continue;
        push->ply = named_lever_ply(&start->position, side, lever->square, moves, size / 2);
        push->asked = lever->kind == NAMED_MISLEADING && push->ply > 0 &&
                      named_lever_was_asked(&start->position, side, lever->square, moves, push->ply);
    }
}

static void set_named(StoredPair *pair, const FirstGame *first, const NamedPush second[2])
{
    for (Side side = WHITE; side <= BLACK; side++) {
        /* Arm A has White in the first game. */
        const NamedPush *a = side == WHITE ? &first->named[side] : &second[side];
        const NamedPush *b = side == WHITE ? &second[side] : &first->named[side];
        pair->named[side] = (StoredNamed){.kind = (uint8_t)first->start.named[side].kind,
                                          .plies = {(int16_t)a->ply, (int16_t)b->ply},
                                          .asked = {a->asked, b->asked}};
    }
}

static bool read_game(StoredRun *run, const Database *database, sqlite3_stmt *row, const uint8_t *strata,
                      FirstGame *first)
{
    GameKey key = {sqlite3_column_int(row, GAME_MATCH), sqlite3_column_int(row, GAME_PAIR),
                   sqlite3_column_int(row, GAME_HALF)};
    StoredMatch *match = &run->matches[key.match];
    int points = game_points_a(key.half, sqlite3_column_int(row, GAME_WHITE_POINTS));
    int size = sqlite3_column_bytes(row, GAME_MOVES);
    const void *moves = sqlite3_column_blob(row, GAME_MOVES);
    for (int i = 0; i < FORFEIT_COUNT; i++)
        match->lost[i][points > 0] += strcmp(database_text(row, GAME_ENDING), ending_forfeits[i]) == 0;
    if (key.half == 0 || first->key.pair != key.pair)
        read_start(&first->start, run->openings[key.pair]);
    NamedPush named[2];
    read_named(&first->start, moves, size, named);
    if (key.half == 0) {
        first->key = key;
        first->points = points;
        first->size = size;
        memcpy(first->named, named, sizeof named);
        if (size > 0)
            memcpy(first->moves, moves, (size_t)size);
        return true;
    }
    if (first->key.match != key.match || first->key.pair != key.pair)
        return true;
    bool same = first->size == size && (size == 0 || memcmp(first->moves, moves, (size_t)size) == 0);
    StoredPair pair = {.pair = key.pair,
                       .stratum = strata[key.pair],
                       .points_a = first->points + points,
                       .same_games = same};
    set_named(&pair, first, named);
    return add_pair(match, database, pair);
}

/* In one go, and not by the view of pairs: there may be millions. */
static bool read_games(StoredRun *run, const Database *database, const uint8_t *strata)
{
    GameBounds bounds = {run->match_count, run->planned_pairs, strata};
    FirstGame first = {.key = {-1, -1, -1}};
    sqlite3_stmt *row = database_prepare(database, "SELECT * FROM game ORDER BY match, pair, half");
    bool good = row != NULL;
    while (good && database_step(database, row, &good))
        good = game_row_check(database, row, &bounds) && read_game(run, database, row, strata, &first);
    sqlite3_finalize(row);
    return good;
}

static bool read_all(StoredRun *run, const Database *database)
{
    if (!read_plan(run, database))
        return false;
    uint8_t *strata = malloc(run->planned_pairs + 1);
    if (!strata)
        return no_memory(database);
    memset(strata, NO_STRATUM, run->planned_pairs + 1);
    bool good = read_openings(run, database, strata) && read_games(run, database, strata);
    free(strata);
    return good;
}

bool stored_run_read(StoredRun *run, const Database *database)
{
    *run = (StoredRun){0};
    /* One transaction, so that a file that grows is seen as it was at one moment. */
    if (!database_run(database, "BEGIN"))
        return false;
    if (read_all(run, database))
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

const char *const stored_time_names[STORED_TIME_COUNT] = {
    [STORED_MOVE_MS] = "milliseconds a move",
    [STORED_CLOCK_MS] = "clock, milliseconds",
    [STORED_INCREMENT_MS] = "increment, milliseconds",
    [STORED_PACE] = "pace, nodes a second",
};

const char *stored_time(const StoredRun *run, StoredTime time)
{
    const char *value = stored_setting(run, stored_time_names[time]);
    return value && strcmp(value, "0") != 0 ? value : NULL;
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

Move stored_move(const StoredGame *game, int ply)
{
    return move_of_bytes(game->moves + 2 * ply);
}

bool stored_games_each(const Database *database, bool (*use)(void *context, const StoredGame *game),
                       void *context)
{
    sqlite3_stmt *row = database_prepare(
        database, "SELECT match, pair, half, name, stratum, fen, white_points, ending, plies, moves"
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
            .plies = sqlite3_column_int(row, 8),
            .moves = sqlite3_column_blob(row, 9)};
        good = use(context, &game);
    }
    sqlite3_finalize(row);
    return good;
}
