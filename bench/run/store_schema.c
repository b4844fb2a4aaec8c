#include "bench/run/store_schema.h"
#include "bench/base/complaint.h"

#include <stdio.h>
#include <string.h>

enum {
    APPLICATION = 0x50766e65, /* PRAGMA application_id: "Pvne" */
    VERSION = 2               /* PRAGMA user_version; raised by every change of the text below */
};

/* A file holds one experiment, or a share of it: the plan, written once when the file is made, and a row for each
 * finished game, each written in a transaction of its own. There are no dates and no timings: two files of one
 * experiment on one machine are the same row by row, however often they were interrupted. Any SQLite program
 * can read the file, even while it grows:
 *
 *     sqlite3 RUN.db 'SELECT stratum, avg(points_a) / 4.0, count(*) FROM pair_result GROUP BY stratum' */
static const char schema[] =
    /* What all arms have in common: limits, rules of adjudication, seed. */
    "CREATE TABLE experiment (\n"
    "    name  TEXT PRIMARY KEY,\n"
    "    value TEXT NOT NULL\n"
    ") STRICT, WITHOUT ROWID;\n"
    /* Ways to play. */
    "CREATE TABLE arm (\n"
    "    arm        INTEGER PRIMARY KEY,\n"
    "    weight     INTEGER NOT NULL, -- percent of the lever term\n"
    "    rule       TEXT NOT NULL,    -- strict or loose\n"
    "    nodes      INTEGER NOT NULL, -- positions a move, 0: no such limit\n"
    "    parameters TEXT NOT NULL,    -- of the search, those that are not the default\n"
    "    engine     TEXT NOT NULL     -- who plays, version, and a fingerprint of how it plays\n"
    ") STRICT;\n"
    /* Which arms play each other. Every match plays the same pairs. */
    "CREATE TABLE match (\n"
    "    match INTEGER PRIMARY KEY,\n"
    "    arm_a INTEGER NOT NULL REFERENCES arm,\n"
    "    arm_b INTEGER NOT NULL REFERENCES arm\n"
    ") STRICT;\n"
    /* Kinds of openings, and how many pairs of each a match has, in all shares together. */
    "CREATE TABLE stratum (\n"
    "    stratum INTEGER PRIMARY KEY,\n"
    "    name    TEXT NOT NULL,\n"
    "    pairs   INTEGER NOT NULL\n"
    ") STRICT;\n"
    /* The position that both games of a pair start from, in the order of play. The file of a share has only its
     * own; how many there are in all is in experiment, with a hash of them if they come from a file. */
    "CREATE TABLE opening (\n"
    "    pair    INTEGER PRIMARY KEY,\n"
    "    name    TEXT NOT NULL,\n"
    "    stratum TEXT NOT NULL, -- its name\n"
    "    fen     TEXT NOT NULL\n"
    ") STRICT;\n"
    /* Finished games. */
    "CREATE TABLE game (\n"
    "    match        INTEGER NOT NULL REFERENCES match,\n"
    "    pair         INTEGER NOT NULL REFERENCES opening,\n"
    "    half         INTEGER NOT NULL CHECK (half IN (0, 1)), -- 0: arm A has White, 1: arm B has\n"
    "    white_points INTEGER NOT NULL CHECK (white_points IN (0, 1, 2)), -- half points\n"
    "    ending       TEXT NOT NULL,    -- how it ended, adjudication included\n"
    "    plies        INTEGER NOT NULL,\n"
    /* 2 bytes a ply, the lower first. Squares count from a1 = 0, b1 = 1 to h8 = 63; kinds are 1 castling (the king
     * takes its own rook), 2 en passant, 4 to 7 promotion to a knight, bishop, rook, queen, else 0. */
    "    moves        BLOB NOT NULL,    -- 2 bytes a ply: origin + 64 * destination + 4096 * kind\n"
    "    scores       BLOB NOT NULL,    -- 2 bytes a ply, signed: what the mover thought, centipawns\n"
    "    machine      TEXT NOT NULL,    -- where it was played\n"
    "    PRIMARY KEY (match, pair, half)\n"
    ") STRICT, WITHOUT ROWID;\n"
    /* Pairs of which both games are finished. */
    "CREATE VIEW pair_result AS\n"
    "    SELECT match, pair, stratum, -- points_a: half points of arm A, 0 to 4\n"
    "           sum(CASE half WHEN 0 THEN white_points ELSE 2 - white_points END) AS points_a\n"
    "    FROM game JOIN opening USING (pair) GROUP BY match, pair HAVING count(*) = 2;\n";

static bool same_objects(const Database *database, sqlite3_stmt *found, const Database *model,
                         sqlite3_stmt *wanted)
{
    bool good;
    while (database_step(model, wanted, &good)) {
        const char *name = database_text(wanted, 0);
        sqlite3_bind_text(found, 1, name, -1, SQLITE_STATIC);
        bool same = database_step(database, found, &good) &&
                    strcmp(database_text(found, 0), database_text(wanted, 1)) == 0;
        sqlite3_reset(found);
        if (good && !same)
            complain(database->path, 0, "its %s is not as duel and sweep make it; expected the file of a run",
                     name);
        if (!same)
            return false;
    }
    return good;
}

/* Whether tables and view are the very ones of this schema, and nothing happens by itself when they change:
 * what else is in the file is let be. */
static bool is_unchanged(const Database *database)
{
    static const char all[] = "SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL";
    static const char one[] = "SELECT sql FROM sqlite_schema WHERE name = ?1 AND NOT EXISTS"
                              " (SELECT 1 FROM sqlite_schema WHERE type = 'trigger' AND tbl_name LIKE ?1)";
    Database model = {0};
    sqlite3_stmt *wanted = NULL, *found = NULL;
    bool good = database_open(&model, ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY) &&
                schema_create(&model) && (wanted = database_prepare(&model, all)) &&
                (found = database_prepare(database, one)) && same_objects(database, found, &model, wanted);
    sqlite3_finalize(wanted);
    sqlite3_finalize(found);
    database_close(&model);
    return good;
}

SchemaState schema_look(const Database *database)
{
    sqlite3_int64 tables, application, version;
    if (!database_number(database, "SELECT count(*) FROM sqlite_schema", &tables) ||
        !database_number(database, "PRAGMA application_id", &application) ||
        !database_number(database, "PRAGMA user_version", &version))
        return SCHEMA_FOREIGN;
    if (tables == 0 && application == 0 && version == 0)
        return SCHEMA_EMPTY;
    if (application != APPLICATION) {
        complain(database->path, 0, "is a database of something else; expected the file of a run");
        return SCHEMA_FOREIGN;
    }
    if (version != VERSION) {
        complain(database->path, 0, "is of version %lld of the schema; expected version %d", version,
                 VERSION);
        return SCHEMA_FOREIGN;
    }
    return is_unchanged(database) ? SCHEMA_PRESENT : SCHEMA_FOREIGN;
}

bool schema_create(const Database *database)
{
    char marks[128];
    snprintf(marks, sizeof marks, "PRAGMA application_id = %d; PRAGMA user_version = %d;", APPLICATION,
             VERSION);
    return database_run(database, schema) && database_run(database, marks);
}
