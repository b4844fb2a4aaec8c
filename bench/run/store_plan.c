#include "bench/run/store_plan.h"
#include "bench/base/command_line.h"
#include "engine/rules/fen.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { ROW_SIZE = 1024 };

static const char *const stop_names[STOP_WHEN_COUNT] = {"pairs", "interval", "sprt"};

static bool write_setting(const Database *database, sqlite3_stmt *insert, const char *name,
                          const char *format, ...) __attribute__((format(printf, 4, 5)));

static bool write_setting(const Database *database, sqlite3_stmt *insert, const char *name,
                          const char *format, ...)
{
    char value[ROW_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(value, sizeof value, format, arguments);
    va_end(arguments);
    sqlite3_bind_text(insert, 1, name, -1, SQLITE_STATIC);
    sqlite3_bind_text(insert, 2, value, -1, SQLITE_TRANSIENT);
    return database_finish(database, insert);
}

static bool write_settings(const Database *database, sqlite3_stmt *insert, const Experiment *e, Share share)
{
    const Adjudication *a = &e->adjudication;
    const StopRule *s = &e->stop;
#define SET(name, ...) write_setting(database, insert, name, __VA_ARGS__)
    return SET("kind", "%s", e->kind) && SET("seed", "%" PRIu64, e->seed) &&
           SET("openings", "%s", e->openings_source) && SET("share", "%d/%d", share.number, share.of) &&
           SET("milliseconds a move", "%" PRId64, e->time.move_ms) &&
           SET("clock, milliseconds", "%" PRId64, e->time.clock_ms) &&
           SET("increment, milliseconds", "%" PRId64, e->time.increment_ms) &&
           SET("table, MiB", "%d", e->table_mib) && SET("win score, centipawns", "%d", a->win_score) &&
           SET("win plies", "%d", a->win_plies) && SET("draw score, centipawns", "%d", a->draw_score) &&
           SET("draw plies", "%d", a->draw_plies) && SET("draw from ply", "%d", a->draw_from) &&
           SET("longest game, plies", "%d", a->longest) && SET("until", "%s", stop_names[s->when]) &&
           (s->when != STOP_AT_INTERVAL || SET("until half width, Elo", "%g", s->half_width)) &&
           (s->when != STOP_AT_SPRT ||
            (SET("until null, Elo", "%g", s->test.elo0) &&
             SET("until alternative, Elo", "%g", s->test.elo1) && SET("until alpha", "%g", s->test.alpha) &&
             SET("until beta", "%g", s->test.beta)));
#undef SET
}

static bool write_arms(const Database *database, sqlite3_stmt *insert, const Experiment *e)
{
    for (int i = 0; i < e->arm_count; i++) {
        const Arm *arm = &e->arms[i];
        char parameters[ARM_TEXT_SIZE];
        arm_parameters_text(arm, parameters);
        sqlite3_bind_int(insert, 1, i);
        sqlite3_bind_int(insert, 2, arm->weight);
        sqlite3_bind_text(insert, 3, ps_rule_name(arm->rule), -1, SQLITE_STATIC);
        sqlite3_bind_int64(insert, 4, arm->nodes);
        sqlite3_bind_text(insert, 5, parameters, -1, SQLITE_TRANSIENT);
        sqlite3_bind_text(insert, 6, e->engines[i], -1, SQLITE_STATIC);
        if (!database_finish(database, insert))
            return false;
    }
    return true;
}

static bool write_matches(const Database *database, sqlite3_stmt *insert, const Experiment *e)
{
    for (int i = 0; i < e->match_count; i++) {
        sqlite3_bind_int(insert, 1, i);
        sqlite3_bind_int(insert, 2, e->matches[i].a);
        sqlite3_bind_int(insert, 3, e->matches[i].b);
        if (!database_finish(database, insert))
            return false;
    }
    return true;
}

static bool write_openings(const Database *database, sqlite3_stmt *insert, const Experiment *e)
{
    for (size_t i = 0; i < e->openings.count; i++) {
        const Opening *opening = &e->openings.items[i];
        char fen[FEN_SIZE];
        fen_write(&opening->position, fen);
        sqlite3_bind_int64(insert, 1, (sqlite3_int64)i);
        sqlite3_bind_text(insert, 2, opening->name, -1, SQLITE_STATIC);
        sqlite3_bind_text(insert, 3, e->openings.strata[opening->stratum], -1, SQLITE_STATIC);
        sqlite3_bind_text(insert, 4, fen, -1, SQLITE_TRANSIENT);
        if (!database_finish(database, insert))
            return false;
    }
    return true;
}

bool plan_write(const Database *database, const Experiment *experiment, Share share)
{
    sqlite3_stmt *setting = database_prepare(database, "INSERT INTO experiment VALUES (?, ?)");
    sqlite3_stmt *arm = database_prepare(database, "INSERT INTO arm VALUES (?, ?, ?, ?, ?, ?)");
    sqlite3_stmt *match = database_prepare(database, "INSERT INTO match VALUES (?, ?, ?)");
    sqlite3_stmt *opening = database_prepare(database, "INSERT INTO opening VALUES (?, ?, ?, ?)");
    bool good = setting && arm && match && opening && write_settings(database, setting, experiment, share) &&
                write_arms(database, arm, experiment) && write_matches(database, match, experiment) &&
                write_openings(database, opening, experiment);
    sqlite3_finalize(setting);
    sqlite3_finalize(arm);
    sqlite3_finalize(match);
    sqlite3_finalize(opening);
    return good;
}

/* All columns of a row, ": " behind the first and ", " between the others. */
static void row_text(sqlite3_stmt *statement, bool there, char text[ROW_SIZE])
{
    size_t length = 0;
    snprintf(text, ROW_SIZE, "nothing");
    for (int i = 0; there && i < sqlite3_column_count(statement) && length < ROW_SIZE; i++)
        length += (size_t)snprintf(text + length, ROW_SIZE - length, "%s%s",
                                   i == 0   ? ""
                                   : i == 1 ? ": "
                                            : ", ",
                                   database_text(statement, i));
}

/* Reads two queries side by side until their rows differ. */
static bool same_rows(const Database *database, const Database *expected, sqlite3_stmt *found,
                      sqlite3_stmt *wanted)
{
    char found_text[ROW_SIZE], wanted_text[ROW_SIZE];
    bool good, more = true;
    while (more) {
        more = database_step(database, found, &good);
        row_text(found, more, found_text);
        if (!good)
            return false;
        bool expected_more = database_step(expected, wanted, &good);
        row_text(wanted, expected_more, wanted_text);
        if (!good)
            return false;
        if (strcmp(found_text, wanted_text) != 0) {
            complain(database->path, 0, "holds another experiment: it has \"%s\"; expected \"%s\"",
                     found_text, wanted_text);
            return false;
        }
    }
    return true;
}

bool plan_is_the_same(const Database *database, const Database *expected, bool any_share)
{
    static const char *const queries[] = {
        "SELECT name, value FROM experiment WHERE name <> 'share' ORDER BY name",
        "SELECT 'arm ' || arm, weight, rule, nodes, parameters, engine FROM arm ORDER BY arm",
        "SELECT 'match ' || match, arm_a, arm_b FROM match ORDER BY match",
        "SELECT 'pair ' || pair, name, stratum, fen FROM opening ORDER BY pair",
        "SELECT name, value FROM experiment WHERE name = 'share'",
    };
    size_t count = sizeof queries / sizeof *queries - (any_share ? 1 : 0);
    bool good = true;
    for (size_t i = 0; good && i < count; i++) {
        sqlite3_stmt *found = database_prepare(database, queries[i]);
        sqlite3_stmt *wanted = database_prepare(expected, queries[i]);
        good = found && wanted && same_rows(database, expected, found, wanted);
        sqlite3_finalize(found);
        sqlite3_finalize(wanted);
    }
    return good;
}
