#include "bench/census/census_store.h"
#include "bench/base/complaint.h"

#include <stdio.h>
#include <string.h>

static const char create[] =
    "CREATE TABLE census_game (file TEXT NOT NULL, game INTEGER NOT NULL, line INTEGER NOT NULL,"
    " plies INTEGER NOT NULL, result TEXT NOT NULL, eco TEXT, opening TEXT, white_rating INTEGER,"
    " black_rating INTEGER, reached TEXT NOT NULL, near_misses TEXT NOT NULL, de_ply INTEGER,"
    " first_to_break TEXT, white_verdict TEXT, white_status TEXT, white_base_lever TEXT, white_base_ply "
    "INTEGER,"
    " white_head_lever TEXT, white_head_ply INTEGER, black_verdict TEXT, black_status TEXT,"
    " black_base_lever TEXT, black_base_ply INTEGER, black_head_lever TEXT, black_head_ply INTEGER)";

static const char insert[] =
    "INSERT INTO census_game VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)";

/* Whether there is nothing in the file, or just what census makes: no other table, view, index or trigger, no other
 * columns, no mark of another program. */
static bool is_free(const Database *database)
{
    bool good;
    sqlite3_int64 application, version;
    sqlite3_stmt *other =
        database_prepare(database, "SELECT iif(type = 'index', 'an ', 'a ') || type, name FROM sqlite_schema"
                                   " WHERE name <> 'census_game' OR sql IS NOT ?1 ORDER BY name = "
                                   "'census_game', type <> 'table', rowid");
    if (!other)
        return false;
    sqlite3_bind_text(other, 1, create, -1, SQLITE_STATIC);
    if (database_step(database, other, &good)) {
        complain(database->path, 0, "has %s %.60s; expected a new file, or one that census has written",
                 database_text(other, 0), database_text(other, 1));
        good = false;
    }
    sqlite3_finalize(other);
    good = good && database_number(database, "PRAGMA application_id", &application) &&
           database_number(database, "PRAGMA user_version", &version);
    if (good && (application != 0 || version != 0)) {
        complain(database->path, 0,
                 "is a database of something else; expected a new file, or one that census has written");
        good = false;
    }
    return good;
}

bool census_store_open(CensusStore *store, const char *path)
{
    *store = (CensusStore){0};
    if (!database_open(&store->database, path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE) ||
        !database_run(&store->database, "BEGIN IMMEDIATE") || !is_free(&store->database) ||
        !database_run(&store->database, "DROP TABLE IF EXISTS census_game") ||
        !database_run(&store->database, create) ||
        (store->insert = database_prepare(&store->database, insert)) == NULL) {
        census_store_abandon(store);
        return false;
    }
    return true;
}

static const char *pair_name(int pair)
{
    return ps_files_name(pair, pair + 1);
}

static const char *near_miss_name(int i)
{
    return ps_near_miss_name((ps_near_miss)i);
}

static void bind_set(Binder *binder, unsigned set, int count, const char *(*name)(int))
{
    char text[64] = "";
    for (int i = 0; i < count; i++) {
        size_t length = strlen(text);
        if (set & 1U << i)
            snprintf(text + length, sizeof text - length, "%s%s", length ? " " : "", name(i));
    }
    bind_text(binder, text);
}

static void bind_side(Binder *binder, const CensusSide *side)
{
    bind_text(binder, ps_verdict_name(side->verdict));
    bind_text(binder, side->status == PS_NO_STATUS ? NULL : ps_status_name(side->status));
    bind_text(binder, side->base_lever == PS_NO_SQUARE ? NULL : ps_square_name(side->base_lever));
    bind_count(binder, side->base_ply);
    bind_text(binder, side->head_lever == PS_NO_SQUARE ? NULL : ps_square_name(side->head_lever));
    bind_count(binder, side->head_ply);
}

bool census_store_add(CensusStore *store, const char *file, const CensusGame *game)
{
    Binder binder = {store->insert, 0};
    char eco[CENSUS_ECO_SIZE];
    if (game->eco >= 0)
        census_eco_text(game->eco, eco);
    sqlite3_clear_bindings(store->insert);
    bind_text(&binder, file);
    bind_count(&binder, (int64_t)game->number);
    bind_count(&binder, (int64_t)game->line);
    bind_number(&binder, game->plies);
    bind_text(&binder, pgn_result_texts[game->result]);
    bind_text(&binder, game->eco < 0 ? NULL : eco);
    bind_text(&binder, game->opening);
    bind_count(&binder, game->rating[WHITE]);
    bind_count(&binder, game->rating[BLACK]);
    bind_set(&binder, game->pairs, CENSUS_PAIR_COUNT, pair_name);
    bind_set(&binder, game->near_misses, PS_NEAR_MISS_COUNT, near_miss_name);
    if (game->de_ply > 0) {
        bind_count(&binder, game->de_ply);
        bind_text(&binder,
                  game->first_to_break == PS_NOBODY ? NULL : ps_side_name((ps_side)game->first_to_break));
        bind_side(&binder, &game->side[WHITE]);
        bind_side(&binder, &game->side[BLACK]);
    }
    return database_finish(&store->database, store->insert);
}

bool census_store_commit(CensusStore *store)
{
    bool good = database_run(&store->database, "COMMIT");
    census_store_abandon(store);
    return good;
}

void census_store_abandon(CensusStore *store)
{
    /* What is not committed goes when the file is closed. */
    sqlite3_finalize(store->insert);
    database_close(&store->database);
    *store = (CensusStore){0};
}
