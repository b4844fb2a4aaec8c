#include "bench/run/store_plan.h"
#include "bench/base/complaint.h"
#include "engine/rules/fen.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char share_partial[] = "partial";

static const char *const stop_names[STOP_WHEN_COUNT] = {"pairs", "interval", "decided"};

static bool write_setting(const Database *database, sqlite3_stmt *insert, const char *name,
                          const char *format, ...) __attribute__((format(printf, 4, 5)));

static bool write_setting(const Database *database, sqlite3_stmt *insert, const char *name,
                          const char *format, ...)
{
    char *value;
    va_list arguments;
    va_start(arguments, format);
    int length = vasprintf(&value, format, arguments);
    va_end(arguments);
    if (length < 0) {
        complain(database->path, 0, "memory ran out");
        return false;
    }
    sqlite3_bind_text(insert, 1, name, -1, SQLITE_STATIC);
    sqlite3_bind_text(insert, 2, value, length, free);
    return database_finish(database, insert);
}

static bool write_settings(const Database *database, sqlite3_stmt *insert, const Experiment *e, Share share)
{
    const Adjudication *a = &e->adjudication;
    const StopRule *s = &e->stop;
#define SET(name, ...) write_setting(database, insert, name, __VA_ARGS__)
    return SET("kind", "%s", e->kind) && SET("seed", "%" PRIu64, e->seed) &&
           SET("openings", "%s", e->openings_source) &&
           (e->openings_hash == 0 || SET("openings hash", "%016" PRIx64, e->openings_hash)) &&
           SET("pairs", "%zu", e->pairs) && SET("share", "%d/%d", share.number, share.of) &&
           SET("milliseconds a move", "%" PRId64, e->time.move_ms) &&
           SET("clock, milliseconds", "%" PRId64, e->time.clock_ms) &&
           SET("increment, milliseconds", "%" PRId64, e->time.increment_ms) &&
           (e->time.pace == 0 || SET("pace, nodes a second", "%" PRId64, e->time.pace)) &&
           SET("table, MiB", "%d", e->table_mib) && SET("win score, centipawns", "%d", a->win_score) &&
           SET("win plies", "%d", a->win_plies) && SET("draw score, centipawns", "%d", a->draw_score) &&
           SET("draw plies", "%d", a->draw_plies) && SET("draw from ply", "%d", a->draw_from) &&
           SET("longest game, plies", "%d", a->longest) && SET("until", "%s", stop_names[s->when]) &&
           (s->when != STOP_AT_INTERVAL || SET("until half width, Elo", "%g", s->half_width)) &&
           (s->when != STOP_AT_DECISION ||
            (SET("until null, Elo", "%g", s->test.null_elo) &&
             SET("until alternative, Elo", "%g", s->test.alternative_elo) &&
             SET("until alpha", "%g", s->test.false_alarm) && SET("until beta", "%g", s->test.miss)));
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

static bool write_strata(const Database *database, sqlite3_stmt *insert, const Experiment *e)
{
    for (int i = 0, number = 0; i < e->openings.stratum_count; i++) {
        if (e->stratum_pairs[i] == 0)
            continue;
        sqlite3_bind_int(insert, 1, number++);
        sqlite3_bind_text(insert, 2, e->openings.strata[i], -1, SQLITE_STATIC);
        sqlite3_bind_int64(insert, 3, (sqlite3_int64)e->stratum_pairs[i]);
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
        sqlite3_bind_int64(insert, 1, (sqlite3_int64)e->first_pair + (sqlite3_int64)i);
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
    sqlite3_stmt *stratum = database_prepare(database, "INSERT INTO stratum VALUES (?, ?, ?)");
    sqlite3_stmt *opening = database_prepare(database, "INSERT INTO opening VALUES (?, ?, ?, ?)");
    bool good = setting && arm && match && stratum && opening &&
                write_settings(database, setting, experiment, share) &&
                write_arms(database, arm, experiment) && write_matches(database, match, experiment) &&
                write_strata(database, stratum, experiment) && write_openings(database, opening, experiment);
    sqlite3_finalize(setting);
    sqlite3_finalize(arm);
    sqlite3_finalize(match);
    sqlite3_finalize(stratum);
    sqlite3_finalize(opening);
    return good;
}

bool plan_complete(const Database *database, const Experiment *experiment)
{
    static const char partial[] =
        "SELECT count(*) FROM experiment WHERE name = 'share' AND value = 'partial'";
    sqlite3_int64 is_partial;
    if (!database_number(database, partial, &is_partial))
        return false;
    if (!is_partial)
        return true;
    sqlite3_stmt *opening = database_prepare(database, "INSERT OR IGNORE INTO opening VALUES (?, ?, ?, ?)");
    bool good = opening && write_openings(database, opening, experiment) &&
                database_run(database, "UPDATE experiment SET value = '1/1' WHERE name = 'share'");
    sqlite3_finalize(opening);
    return good;
}

/* A row for a message: all its columns, ": " behind the first and ", " between the others. */
static void write_row(FILE *out, sqlite3_stmt *statement, bool there)
{
    if (!there)
        fputs("nothing", out);
    for (int i = 0; there && i < sqlite3_column_count(statement); i++)
        fprintf(out, "%s%s", i == 0 ? "" : i == 1 ? ": " : ", ", database_text(statement, i));
}

static char *row_text(sqlite3_stmt *statement, bool there)
{
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    if (out != NULL) {
        write_row(out, statement, there);
        fclose(out);
    }
    return text;
}

/* All columns, whole. */
static bool same_columns(sqlite3_stmt *found, sqlite3_stmt *wanted)
{
    for (int i = 0; i < sqlite3_column_count(wanted); i++)
        if (strcmp(database_text(found, i), database_text(wanted, i)) != 0)
            return false;
    return true;
}

/* Where two texts of rows are worth showing from: of long ones what is alike is left out, by whole words. */
static size_t first_difference(const char *one, const char *other)
{
    enum { SHORT = 200 };
    size_t same = 0;
    while (one[same] != '\0' && one[same] == other[same])
        same++;
    if (same < SHORT)
        return 0;
    while (same > 0 && one[same - 1] != ' ')
        same--;
    return same;
}

static void complain_of_rows(const Database *database, sqlite3_stmt *found, bool found_there,
                             sqlite3_stmt *wanted, bool wanted_there)
{
    char *has = row_text(found, found_there), *expected = row_text(wanted, wanted_there);
    if (has != NULL && expected != NULL) {
        size_t from = first_difference(has, expected);
        const char *dots = from > 0 ? "... " : "";
        complain(database->path, 0, "holds another experiment: it has \"%s%s\"; expected \"%s%s\"", dots,
                 has + from, dots, expected + from);
    } else {
        complain(database->path, 0, "holds another experiment");
    }
    free(has);
    free(expected);
}

/* Reads two queries side by side until their rows differ. */
static bool same_rows(const Database *database, const Database *expected, sqlite3_stmt *found,
                      sqlite3_stmt *wanted)
{
    bool good, found_there = true;
    while (found_there) {
        found_there = database_step(database, found, &good);
        if (!good)
            return false;
        bool wanted_there = database_step(expected, wanted, &good);
        if (!good)
            return false;
        if (found_there != wanted_there || (found_there && !same_columns(found, wanted))) {
            complain_of_rows(database, found, found_there, wanted, wanted_there);
            return false;
        }
    }
    return true;
}

bool plan_is_the_same(const Database *database, const Database *expected, bool any_share)
{
    static const char *const queries[] = {
        /* That the openings differ says least, and may follow from the rest. */
        "SELECT name, value FROM experiment WHERE name <> 'share' ORDER BY name = 'openings hash', name",
        "SELECT 'arm ' || arm, weight, rule, nodes, parameters, engine FROM arm ORDER BY arm",
        "SELECT 'match ' || match, arm_a, arm_b FROM match ORDER BY match",
        "SELECT 'stratum ' || stratum, name, pairs FROM stratum ORDER BY stratum",
        "SELECT name, value FROM experiment WHERE name = 'share'",
        "SELECT 'pair ' || pair, name, stratum, fen FROM opening ORDER BY pair",
    };
    size_t count = sizeof queries / sizeof *queries - (any_share ? 2 : 0);
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
