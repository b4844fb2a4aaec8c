/* The file of a run whose values have been changed: each line of the input is TABLE COLUMN VALUE, a number or text, or
 * bytes behind a colon. What is read is printed in all ways. */
#include "bench/run/run_pgn.h"
#include "bench/run/run_print.h"
#include "bench/run/store_schema.h"
#include "tests/fuzz/fuzz_input.h"

#include <unistd.h>

static const char rows[] =
    "PRAGMA ignore_check_constraints = ON;"
    "INSERT INTO experiment VALUES ('kind', 'duel'), ('share', '1/1'), ('until', 'pairs'), ('pairs', '1'), "
    "('seed', '1');"
    "INSERT INTO arm VALUES (0, 100, 'strict', 60, '', 'one'), (1, 0, 'loose', 60, 'a=1', 'two');"
    "INSERT INTO match VALUES (0, 0, 1);"
    "INSERT INTO stratum VALUES (0, 'all', 1);"
    "INSERT INTO opening VALUES (0, 'start', 'all', 'rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 "
    "1');"
    "INSERT INTO game VALUES (0, 0, 0, 2, 'time', 1, x'0c07', x'0f00', 'here'),"
    " (0, 0, 1, 0, 'checkmate', 0, x'', x'', 'here');";

static void change(const Database *database, char *line)
{
    static const char *const tables[] = {"experiment", "arm", "match", "stratum", "opening", "game"};
    char sql[256], *table = strsep(&line, " "), *column = line ? strsep(&line, " ") : NULL, *end;
    size_t known = 0;
    sqlite3_stmt *update;
    while (known < 6 && strcmp(table, tables[known]) != 0)
        known++;
    if (known == 6 || !column || !line || strlen(column) > 60)
        return;
    sqlite3_snprintf(sizeof sql, sql, "UPDATE %w SET \"%w\" = ?", table, column);
    if (sqlite3_prepare_v2(database->handle, sql, -1, &update, NULL) != SQLITE_OK)
        return;
    long long number = strtoll(line, &end, 10);
    if (*line == ':')
        sqlite3_bind_blob(update, 1, line + 1, (int)strlen(line + 1), SQLITE_STATIC);
    else if (*line && !*end)
        sqlite3_bind_int64(update, 1, number);
    else
        sqlite3_bind_text(update, 1, line, -1, SQLITE_STATIC);
    sqlite3_step(update);
    sqlite3_finalize(update);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size), *rest = text, *printed = NULL;
    size_t length;
    Database database;
    StoredRun run = {0};
    fuzz_check(database_open(&database, ":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY) &&
               schema_create(&database) && database_run(&database, rows));
    for (char *line; (line = strsep(&rest, "\n"));)
        change(&database, line);
    if (stored_run_read(&run, &database)) {
        FILE *out = open_memstream(&printed, &length);
        const Questions questions = {0};
        for (RunFormat format = RUN_AS_TEXT; format <= RUN_AS_CSV; format++)
            run_print(out, &run, format, &questions, NULL);
        fclose(out);
        free(printed);
        /* In memory: it is written to its end, as for a disk that may fail. */
        run_pgn_write("/dev/shm/pawnvane-fuzz.pgn", &database);
        unlink("/dev/shm/pawnvane-fuzz.pgn");
    }
    stored_run_free(&run);
    database_close(&database);
    free(text);
    return 0;
}
