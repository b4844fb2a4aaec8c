#include "bench/forecast/forecast_store.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/forecast/forecast_price_store.h"
#include "bench/forecast/forecast_units.h"
#include "bench/forecast/forecast_values.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum {
    APPLICATION = 0x50766663, /* PRAGMA application_id: "Pvfc" */
    VERSION = 2               /* PRAGMA user_version; raised by every change of the schema */
};

static const char create[] =
    "BEGIN IMMEDIATE;"
    "DROP TABLE IF EXISTS forecast_price;"
    "DROP TABLE IF EXISTS forecast_setting;"
    "DROP TABLE IF EXISTS forecast_choice;"
    "DROP TABLE IF EXISTS forecast_row;"
    "DROP TABLE IF EXISTS forecast_game;"
    "DROP TABLE IF EXISTS forecast_part;"
    "CREATE TABLE forecast_part (witness TEXT NOT NULL, share INTEGER NOT NULL, shares INTEGER NOT NULL, "
    "games INTEGER NOT NULL,"
    " skipped INTEGER NOT NULL, plies INTEGER NOT NULL) STRICT;"
    "CREATE TABLE forecast_game (id INTEGER PRIMARY KEY, witness TEXT NOT NULL, file TEXT NOT NULL, game "
    "INTEGER NOT NULL,"
    " line INTEGER NOT NULL, plies INTEGER NOT NULL, result TEXT NOT NULL, white_rating INTEGER,"
    " black_rating INTEGER, start TEXT, hash TEXT NOT NULL, opening TEXT NOT NULL) STRICT;"
    "CREATE TABLE forecast_row (id INTEGER PRIMARY KEY, game_id INTEGER NOT NULL REFERENCES forecast_game,"
    " moment TEXT NOT NULL, side TEXT NOT NULL, verdict TEXT NOT NULL, region TEXT NOT NULL, lever TEXT,"
    " first_lever TEXT, earlier_lever TEXT, own_king TEXT NOT NULL, other_king TEXT NOT NULL,"
    " ply INTEGER NOT NULL, first_ply INTEGER, opening_plies INTEGER NOT NULL,"
    " both_ways INTEGER NOT NULL) STRICT;"
    "CREATE TABLE forecast_choice (row_id INTEGER NOT NULL REFERENCES forecast_row, place INTEGER NOT NULL,"
    " goal TEXT NOT NULL, steps INTEGER NOT NULL, blockers INTEGER NOT NULL, support INTEGER NOT NULL,"
    " PRIMARY KEY (row_id, place)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE forecast_setting (nodes INTEGER NOT NULL, plies INTEGER NOT NULL, price_nodes INTEGER NOT "
    "NULL,"
    " playouts INTEGER NOT NULL, playout_nodes INTEGER NOT NULL, seed INTEGER NOT NULL) STRICT;"
    "CREATE TABLE forecast_price (file TEXT NOT NULL, line INTEGER NOT NULL, position_key TEXT NOT NULL,"
    " side TEXT NOT NULL, verdict TEXT NOT NULL, grade TEXT NOT NULL, status TEXT NOT NULL, depth INTEGER "
    "NOT NULL,"
    " named TEXT NOT NULL, named_score INTEGER NOT NULL, lever TEXT, lever_score INTEGER, other TEXT,"
    " other_score INTEGER, rival TEXT NOT NULL, named_points INTEGER, rival_points INTEGER) STRICT;";

bool forecast_is_store(const char *path)
{
    static const char mark[] = "SQLite format 3";
    char head[sizeof mark] = "";
    struct stat status;
    /* What is no plain file must not be read before its time. */
    if (stat(path, &status) != 0 || !S_ISREG(status.st_mode))
        return false;
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return false;
    bool same = fread(head, sizeof mark, 1, file) == 1 && memcmp(head, mark, sizeof mark) == 0;
    fclose(file);
    return same;
}

/* Whether the database is a forecast, or nothing yet if that is allowed. */
static bool is_ours(const Database *database, bool may_be_empty)
{
    sqlite3_int64 tables, application, version;
    if (!database_number(database, "SELECT count(*) FROM sqlite_schema", &tables) ||
        !database_number(database, "PRAGMA application_id", &application) ||
        !database_number(database, "PRAGMA user_version", &version))
        return false;
    if (may_be_empty && tables == 0 && application == 0)
        return true;
    if (application != APPLICATION) {
        complain(database->path, 0, "is a database of something else; expected the store of a forecast");
        return false;
    }
    if (version != VERSION) {
        complain(database->path, 0, "is of version %lld of the schema; expected version %d",
                 (long long)version, VERSION);
        return false;
    }
    return true;
}

bool forecast_store_may_write(const char *path)
{
    struct stat status;
    if (stat(path, &status) != 0)
        return true;
    Database database = {0};
    bool good = database_open(&database, path, SQLITE_OPEN_READWRITE) && is_ours(&database, true);
    database_close(&database);
    return good;
}

/* ------------------------------------------------------------------------------------------------ writing */

static void bind_opening(Binder *binder, const ForecastHead *game)
{
    char text[FORECAST_OPENING_PLIES * (FORECAST_MOVE_ROOM + 1)] = "", move[FORECAST_MOVE_ROOM];
    for (int i = 0; i < FORECAST_OPENING_PLIES && i < game->plies; i++) {
        size_t length = strlen(text);
        forecast_write_move(game->opening[i], move);
        snprintf(text + length, sizeof text - length, "%s%s", i ? " " : "", move);
    }
    bind_text(binder, text);
}

/* A store that is being written: of the games and rows of the witnesses so far. */
typedef struct Writing {
    const Database *database;
    ForecastWitness witness;
    size_t games, rows;
} Writing;

static bool write_parts(const Writing *writing, const ForecastData *data)
{
    const Database *database = writing->database;
    sqlite3_stmt *statement = database_prepare(database, "INSERT INTO forecast_part VALUES (?,?,?,?,?,?)");
    bool good = statement != NULL;
    for (size_t i = 0; i < data->part_count && good; i++) {
        const ForecastPart *part = &data->parts[i];
        Binder binder = {statement, 0};
        bind_text(&binder, forecast_witness_name(writing->witness));
        bind_number(&binder, (int64_t)part->share);
        bind_number(&binder, (int64_t)part->shares);
        bind_number(&binder, (int64_t)part->games);
        bind_number(&binder, (int64_t)part->skipped);
        bind_number(&binder, (int64_t)part->plies);
        good = database_finish(database, statement);
    }
    sqlite3_finalize(statement);
    return good;
}

static bool write_games(const Writing *writing, const ForecastData *data)
{
    const Database *database = writing->database;
    sqlite3_stmt *statement =
        database_prepare(database, "INSERT INTO forecast_game VALUES (?,?,?,?,?,?,?,?,?,?,?,?)");
    bool good = statement != NULL;
    for (size_t i = 0; i < data->game_count && good; i++) {
        const ForecastHead *game = &data->games[i];
        Binder binder = {statement, 0};
        bind_number(&binder, (int64_t)(writing->games + i));
        bind_text(&binder, forecast_witness_name(writing->witness));
        bind_text(&binder, data->files[game->file]);
        bind_number(&binder, (int64_t)game->number);
        bind_number(&binder, (int64_t)game->line);
        bind_number(&binder, game->plies);
        bind_text(&binder, pgn_result_texts[game->result]);
        bind_count(&binder, game->rating[WHITE]);
        bind_count(&binder, game->rating[BLACK]);
        if (game->start != 0)
            bind_hex(&binder, game->start);
        else
            bind_text(&binder, NULL);
        bind_hex(&binder, game->hash);
        bind_opening(&binder, game);
        good = database_finish(database, statement);
    }
    sqlite3_finalize(statement);
    return good;
}

static bool write_rows(const Writing *writing, const ForecastData *data)
{
    const Database *database = writing->database;
    sqlite3_stmt *statement =
        database_prepare(database, "INSERT INTO forecast_row VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
    bool good = statement != NULL;
    for (size_t i = 0; i < data->row_count && good; i++) {
        const ForecastRow *row = &data->rows[i].row;
        Binder binder = {statement, 0};
        bind_number(&binder, (int64_t)(writing->rows + i));
        bind_number(&binder, (int64_t)(writing->games + data->rows[i].game));
        bind_text(&binder, forecast_moment_name((ForecastMoment)row->moment));
        bind_text(&binder, ps_side_name((ps_side)row->side));
        bind_text(&binder, forecast_verdict_name(row->verdict));
        bind_text(&binder, ps_region_name((ps_region)row->region));
        bind_square(&binder, row->lever);
        bind_square(&binder, row->first);
        bind_square(&binder, row->earlier);
        bind_square(&binder, row->kings[0]);
        bind_square(&binder, row->kings[1]);
        bind_number(&binder, row->ply);
        bind_count(&binder, row->first_ply);
        bind_number(&binder, row->ply < FORECAST_OPENING_PLIES ? row->ply : FORECAST_OPENING_PLIES);
        bind_number(&binder, forecast_points_both_ways(data, i));
        good = database_finish(database, statement);
    }
    sqlite3_finalize(statement);
    return good;
}

static bool write_choices(const Writing *writing, const ForecastData *data)
{
    const Database *database = writing->database;
    sqlite3_stmt *statement = database_prepare(database, "INSERT INTO forecast_choice VALUES (?,?,?,?,?,?)");
    bool good = statement != NULL;
    for (size_t i = 0; i < data->row_count && good; i++) {
        for (int c = 0; c < data->rows[i].row.choice_count && good; c++) {
            const ForecastChoice *choice = &data->choices[data->rows[i].first_choice + (size_t)c];
            Binder binder = {statement, 0};
            bind_number(&binder, (int64_t)(writing->rows + i));
            bind_number(&binder, c);
            bind_square(&binder, choice->goal);
            bind_number(&binder, choice->steps);
            bind_number(&binder, choice->blockers);
            bind_number(&binder, choice->support);
            good = database_finish(database, statement);
        }
    }
    sqlite3_finalize(statement);
    return good;
}

static bool write_witnesses(const Database *database, const ForecastEvidence *evidence)
{
    Writing writing = {.database = database};
    bool good = true;
    for (int witness = 0; witness < (int)FORECAST_WITNESS_COUNT && good; witness++) {
        const ForecastData *data = &evidence->of[witness];
        writing.witness = (ForecastWitness)witness;
        good = write_parts(&writing, data) && write_games(&writing, data) && write_rows(&writing, data) &&
               write_choices(&writing, data);
        writing.games += data->game_count;
        writing.rows += data->row_count;
    }
    return good;
}

bool forecast_store_write(const char *path, const ForecastEvidence *evidence)
{
    char marks[96];
    Database database = {0};
    snprintf(marks, sizeof marks, "PRAGMA application_id = %d; PRAGMA user_version = %d;", APPLICATION,
             VERSION);
    interrupt_catch(); /* or else its journal would stay */
    /* What is not committed goes when the file is closed. */
    bool good = database_open(&database, path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE) &&
                is_ours(&database, true) && database_run(&database, create) &&
                database_run(&database, marks) && write_witnesses(&database, evidence) &&
                forecast_write_settings(&database, evidence) && forecast_write_prices(&database, evidence) &&
                database_run(&database, "COMMIT");
    database_close(&database);
    return good;
}

/* ------------------------------------------------------------------------------------------------ reading */

static const char *result_text(int i)
{
    return pgn_result_texts[i];
}

static const char *witness_name(int i)
{
    return forecast_witness_name((ForecastWitness)i);
}

static const char *moment_name(int i)
{
    return forecast_moment_name((ForecastMoment)i);
}

static const char *side_name(int i)
{
    return ps_side_name((ps_side)i);
}

static const char *region_name(int i)
{
    return ps_region_name((ps_region)i);
}

static void take_opening(Fields *fields, Move opening[FORECAST_OPENING_PLIES])
{
    const char *text = database_text(fields->statement, fields->place++);
    for (int i = 0; i < FORECAST_OPENING_PLIES && *text; i++) {
        size_t length = strcspn(text, " ");
        opening[i] = forecast_read_move(text, length, &fields->good);
        text += length + (text[length] == ' ');
    }
}

/* The queries of a store, which all go through it in the same order. */
typedef struct Store {
    Database database;
    sqlite3_stmt *games, *rows, *choices;
    bool more_rows, more_choices; /* the statement stands on one */
    bool good;
} Store;

static void read_choices(Store *store, int64_t row_id, ForecastGame *game, ForecastRow *row)
{
    row->first_choice = (uint8_t)game->choice_count;
    while (store->more_choices && sqlite3_column_int64(store->choices, 0) == row_id &&
           row->choice_count < FORECAST_CHOICES_MAX && game->choice_count < FORECAST_GAME_CHOICES_MAX) {
        Fields fields = {store->choices, 2, true};
        ForecastChoice *choice = &game->choices[game->choice_count++];
        choice->goal = (int8_t)take_square(&fields, false);
        choice->steps = (uint8_t)take_number(&fields, 0, RANK_COUNT);
        choice->blockers = (uint8_t)take_number(&fields, 0, RANK_COUNT);
        choice->support = (int8_t)take_number(&fields, -64, 64);
        row->choice_count++;
        if (!fields.good)
            store->good = false;
        store->more_choices = database_step(&store->database, store->choices, &fields.good);
        store->good &= fields.good;
    }
}

static void read_rows(Store *store, int64_t game_id, ForecastGame *game)
{
    while (store->more_rows && sqlite3_column_int64(store->rows, 1) == game_id &&
           game->row_count < FORECAST_ROWS_MAX) {
        Fields fields = {store->rows, 2, true};
        ForecastRow *row = &game->rows[game->row_count++];
        row->moment = (uint8_t)take_word(&fields, FORECAST_MOMENT_COUNT, moment_name);
        row->side = (uint8_t)take_word(&fields, SIDE_COUNT, side_name);
        row->verdict = (uint8_t)take_word(&fields, FORECAST_VERDICT_COUNT, forecast_verdict_name);
        row->region = (uint8_t)take_word(&fields, PS_REGION_COUNT, region_name);
        row->lever = (int8_t)take_square(&fields, true);
        row->first = (int8_t)take_square(&fields, true);
        row->earlier = (int8_t)take_square(&fields, true);
        row->kings[0] = (int8_t)take_square(&fields, false);
        row->kings[1] = (int8_t)take_square(&fields, false);
        row->ply = (int)take_number(&fields, 1, INT32_MAX);
        row->first_ply = (int)take_number(&fields, 0, INT32_MAX);
        store->good &= fields.good;
        read_choices(store, sqlite3_column_int64(store->rows, 0), game, row);
        store->more_rows = database_step(&store->database, store->rows, &fields.good);
        store->good &= fields.good;
    }
}

/* Reads the game on which its statement stands. */
static void read_game(Store *store, ForecastGame *game)
{
    Fields fields = {store->games, 3, true};
    *game = (ForecastGame){0};
    game->number = (size_t)take_number(&fields, 1, INT64_MAX);
    game->line = (size_t)take_number(&fields, 0, INT64_MAX);
    game->plies = (int)take_number(&fields, 0, INT32_MAX);
    game->result = (PgnResult)take_word(&fields, PGN_RESULT_COUNT, result_text);
    game->rating[WHITE] = (int)take_number(&fields, 0, INT32_MAX);
    game->rating[BLACK] = (int)take_number(&fields, 0, INT32_MAX);
    game->start = take_hex(&fields);
    game->hash = take_hex(&fields);
    take_opening(&fields, game->opening);
    store->good &= fields.good;
    read_rows(store, sqlite3_column_int64(store->games, 0), game);
}

static bool read_parts(const Database *database, ForecastEvidence *evidence)
{
    bool good = true;
    sqlite3_stmt *statement = database_prepare(database, "SELECT * FROM forecast_part ORDER BY rowid");
    while (good && statement != NULL && database_step(database, statement, &good)) {
        Fields fields = {statement, 0, true};
        int witness = take_word(&fields, FORECAST_WITNESS_COUNT, witness_name);
        ForecastPart part = {.share = (size_t)take_number(&fields, 1, INT32_MAX),
                             .shares = (size_t)take_number(&fields, 1, INT32_MAX),
                             .games = (size_t)take_number(&fields, 0, INT64_MAX),
                             .skipped = (size_t)take_number(&fields, 0, INT64_MAX),
                             .plies = (uint64_t)take_number(&fields, 0, INT64_MAX)};
        good = fields.good && forecast_data_add_part(&evidence->of[witness], &part);
    }
    sqlite3_finalize(statement);
    return good && statement != NULL;
}

static bool read_games(Store *store, ForecastEvidence *evidence)
{
    ForecastGame *game = malloc(sizeof *game);
    store->good = game != NULL;
    if (store->good)
        store->more_rows = database_step(&store->database, store->rows, &store->good);
    if (store->good)
        store->more_choices = database_step(&store->database, store->choices, &store->good);
    while (store->good && database_step(&store->database, store->games, &store->good)) {
        Fields fields = {store->games, 1, true};
        int witness = take_word(&fields, FORECAST_WITNESS_COUNT, witness_name);
        read_game(store, game);
        store->good = store->good && fields.good &&
                      forecast_data_add(&evidence->of[witness], database_text(store->games, 2), game);
    }
    free(game);
    /* Rows of no game would be lost without a word. */
    if (store->more_rows || store->more_choices)
        store->good = false;
    return store->good;
}

bool forecast_store_read(const char *path, ForecastEvidence *evidence)
{
    Store store = {0};
    bool good = database_open(&store.database, path, SQLITE_OPEN_READONLY) && is_ours(&store.database, false);
    bool differ = false;
    if (good) {
        store.games = database_prepare(&store.database, "SELECT * FROM forecast_game ORDER BY id");
        store.rows = database_prepare(&store.database, "SELECT * FROM forecast_row ORDER BY id");
        store.choices =
            database_prepare(&store.database, "SELECT * FROM forecast_choice ORDER BY row_id, place");
        good = store.games && store.rows && store.choices && read_parts(&store.database, evidence) &&
               read_games(&store, evidence) && forecast_read_settings(&store.database, evidence, &differ) &&
               forecast_read_prices(&store.database, evidence);
        if (differ)
            complain(path, 0,
                     "has positions that were searched otherwise; expected the same settings as before");
        else if (!good)
            complain(path, 0, "is damaged; expected the store of a forecast as it was written");
    }
    sqlite3_finalize(store.games);
    sqlite3_finalize(store.rows);
    sqlite3_finalize(store.choices);
    database_close(&store.database);
    return good;
}
