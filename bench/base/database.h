/* SQLite whose errors are reported: what fails here writes one line, with the path of the file. */
#ifndef PAWNVANE_DATABASE_H
#define PAWNVANE_DATABASE_H

#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>

typedef struct Database {
    sqlite3 *handle;
    const char *path;
} Database;

/* `flags` as for sqlite3_open_v2(). Close it even if this fails. */
bool database_open(Database *database, const char *path, int flags);
void database_close(Database *database);

/* Runs statements that take no values and yield no rows. */
bool database_run(const Database *database, const char *sql);

/* Null on failure. To be finalized by the caller. */
sqlite3_stmt *database_prepare(const Database *database, const char *sql);

/* The next row. False at the end and on failure, which *good tells apart. */
bool database_step(const Database *database, sqlite3_stmt *statement, bool *good);

/* Runs a statement that yields no rows, and makes it ready to run again. */
bool database_finish(const Database *database, sqlite3_stmt *statement);

/* The one number that a query yields; false on failure. */
bool database_number(const Database *database, const char *sql, sqlite3_int64 *number);

/* Complains about the last failure. Returns false. */
bool database_fail(const Database *database);

/* A column as text, "" for none. */
const char *database_text(sqlite3_stmt *statement, int column);

/* Binds the values of a statement one after the other. */
typedef struct Binder {
    sqlite3_stmt *statement;
    int place; /* bound so far */
} Binder;

/* The text is copied; null is null. */
void bind_text(Binder *binder, const char *text);
void bind_number(Binder *binder, int64_t number);

/* A number of which 0 says that there is none: null then. */
void bind_count(Binder *binder, int64_t number);

/* Columns of a row, one after the other. A value that cannot be clears `good`. */
typedef struct Fields {
    sqlite3_stmt *statement;
    int place; /* taken so far */
    bool good;
} Fields;

/* Within the bounds; `least` if it is not good. */
int64_t take_number(Fields *fields, int64_t least, int64_t greatest);

/* The place of a word among those that name_of() says, 0 if it is not good. */
int take_word(Fields *fields, int count, const char *(*name_of)(int));

#endif
