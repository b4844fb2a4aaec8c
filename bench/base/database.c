#include "bench/base/database.h"
#include "bench/base/complaint.h"

#include <stddef.h>
#include <string.h>

enum { PATIENCE_MS = 20000 }; /* for another process that reads or writes */

bool database_fail(const Database *database)
{
    /* SQLite's own text does not say why the system refused. */
    int system =
        sqlite3_errcode(database->handle) == SQLITE_IOERR ? sqlite3_system_errno(database->handle) : 0;
    complain(database->path, 0, "%s%s%s", sqlite3_errmsg(database->handle), system ? ": " : "",
             system ? strerror(system) : "");
    return false;
}

bool database_open(Database *database, const char *path, int flags)
{
    database->path = path;
    if (sqlite3_open_v2(path, &database->handle, flags, NULL) != SQLITE_OK)
        return database_fail(database);
    sqlite3_busy_timeout(database->handle, PATIENCE_MS);
    return true;
}

void database_close(Database *database)
{
    sqlite3_close(database->handle);
    database->handle = NULL;
}

bool database_run(const Database *database, const char *sql)
{
    return sqlite3_exec(database->handle, sql, NULL, NULL, NULL) == SQLITE_OK || database_fail(database);
}

sqlite3_stmt *database_prepare(const Database *database, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(database->handle, sql, -1, &statement, NULL) != SQLITE_OK)
        database_fail(database);
    return statement;
}

bool database_step(const Database *database, sqlite3_stmt *statement, bool *good)
{
    int result = sqlite3_step(statement);
    *good = result == SQLITE_ROW || result == SQLITE_DONE || database_fail(database);
    return result == SQLITE_ROW;
}

bool database_finish(const Database *database, sqlite3_stmt *statement)
{
    bool good = sqlite3_step(statement) == SQLITE_DONE || database_fail(database);
    sqlite3_reset(statement);
    return good;
}

bool database_number(const Database *database, const char *sql, sqlite3_int64 *number)
{
    sqlite3_stmt *statement = database_prepare(database, sql);
    bool good = statement != NULL;
    *number = 0;
    if (good && database_step(database, statement, &good))
        *number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    return good;
}

const char *database_text(sqlite3_stmt *statement, int column)
{
    const unsigned char *text = sqlite3_column_text(statement, column);
    return text ? (const char *)text : "";
}

void bind_text(Binder *binder, const char *text)
{
    binder->place++;
    if (text != NULL)
        sqlite3_bind_text(binder->statement, binder->place, text, -1, SQLITE_TRANSIENT);
    else
        sqlite3_bind_null(binder->statement, binder->place);
}

void bind_number(Binder *binder, int64_t number)
{
    sqlite3_bind_int64(binder->statement, ++binder->place, number);
}

void bind_count(Binder *binder, int64_t number)
{
    if (number != 0)
        bind_number(binder, number);
    else
        bind_text(binder, NULL);
}

int64_t take_number(Fields *fields, int64_t least, int64_t greatest)
{
    int64_t number = sqlite3_column_int64(fields->statement, fields->place++);
    fields->good &= number >= least && number <= greatest;
    return fields->good ? number : least;
}

int take_word(Fields *fields, int count, const char *(*name_of)(int))
{
    const char *text = database_text(fields->statement, fields->place++);
    for (int i = 0; i < count; i++)
        if (strcmp(text, name_of(i)) == 0)
            return i;
    fields->good = false;
    return 0;
}
