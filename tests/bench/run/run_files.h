/* Files of runs for tests: a folder of their own, and what is in a file as text. */
#ifndef PAWNVANE_TESTS_RUN_FILES_H
#define PAWNVANE_TESTS_RUN_FILES_H

#include <ftw.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include <sqlite3.h>

typedef struct RunFiles {
    char folder[64];
    char path[128]; /* the last one asked for */
} RunFiles;

static inline int run_files_setup(void **state)
{
    RunFiles *files = calloc(1, sizeof *files);
    strcpy(files->folder, "/tmp/pawnvane-run-XXXXXX");
    assert_non_null(mkdtemp(files->folder));
    *state = files;
    return 0;
}

static inline int run_files_remove(const char *path, const struct stat *status, int kind, struct FTW *walk)
{
    (void)status, (void)kind, (void)walk;
    return remove(path);
}

static inline int run_files_teardown(void **state)
{
    RunFiles *files = *state;
    nftw(files->folder, run_files_remove, 16, FTW_DEPTH | FTW_PHYS);
    free(files);
    return 0;
}

/* The path of a file in the folder; good until the next call. */
static inline const char *run_path(RunFiles *files, const char *name)
{
    snprintf(files->path, sizeof files->path, "%s/%s", files->folder, name);
    return files->path;
}

static inline void run_write(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

static inline char *run_read(const char *path)
{
    char *text = NULL;
    size_t size = 0;
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    if (getdelim(&text, &size, '\0', file) < 0) {
        free(text); /* made even for an empty file */
        text = strdup("");
    }
    fclose(file);
    return text;
}

static inline sqlite3 *run_open(const char *path)
{
    sqlite3 *database;
    assert_int_equal(sqlite3_open_v2(path, &database, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
    sqlite3_busy_timeout(database, 20000);
    return database;
}

static inline void run_sql(const char *path, const char *sql)
{
    sqlite3 *database = run_open(path);
    char *error = NULL;
    if (sqlite3_exec(database, sql, NULL, NULL, &error) != SQLITE_OK)
        fail_msg("%s: %s", sql, error);
    sqlite3_close(database);
}

static inline int64_t run_number(const char *path, const char *sql)
{
    sqlite3 *database = run_open(path);
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_prepare_v2(database, sql, -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int64_t number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    sqlite3_close(database);
    return number;
}

static inline void run_dump_query(sqlite3 *database, const char *sql, FILE *out)
{
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_prepare_v2(database, sql, -1, &statement, NULL), SQLITE_OK);
    while (sqlite3_step(statement) == SQLITE_ROW) {
        for (int i = 0; i < sqlite3_column_count(statement); i++) {
            const unsigned char *bytes = sqlite3_column_blob(statement, i);
            bool is_text = sqlite3_column_type(statement, i) != SQLITE_BLOB;
            fprintf(out, "%s%s", i ? "|" : "",
                    is_text ? (const char *)sqlite3_column_text(statement, i) : "");
            for (int k = 0; !is_text && k < sqlite3_column_bytes(statement, i); k++)
                fprintf(out, "%02x", bytes[k]);
        }
        fputc('\n', out);
    }
    sqlite3_finalize(statement);
}

/* Everything in the file, schema and marks included, after a check of its integrity. To be freed. */
static inline char *run_dump(const char *path)
{
    char *text;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    sqlite3 *database = run_open(path);
    run_dump_query(database, "PRAGMA integrity_check", out);
    fflush(out);
    assert_string_equal(text, "ok\n");
    run_dump_query(database, "PRAGMA application_id", out);
    run_dump_query(database, "PRAGMA user_version", out);
    run_dump_query(database, "SELECT name, sql FROM sqlite_schema ORDER BY name", out);
    run_dump_query(database, "SELECT * FROM experiment ORDER BY name", out);
    run_dump_query(database, "SELECT * FROM arm ORDER BY arm", out);
    run_dump_query(database, "SELECT * FROM match ORDER BY match", out);
    run_dump_query(database, "SELECT * FROM stratum ORDER BY stratum", out);
    run_dump_query(database, "SELECT * FROM opening ORDER BY pair", out);
    run_dump_query(database, "SELECT * FROM game ORDER BY match, pair, half", out);
    sqlite3_close(database);
    fclose(out);
    return text;
}

static inline void assert_same_run(const char *path, const char *expected)
{
    char *text = run_dump(path);
    if (strcmp(text, expected) != 0)
        fail_msg("%s holds another run:\n%s\ninstead of\n%s", path, text, expected);
    free(text);
}

#endif
