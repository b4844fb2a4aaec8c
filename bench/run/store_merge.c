#include "bench/run/store_merge.h"
#include "bench/base/complaint.h"
#include "bench/base/output_file.h"
#include "bench/run/store_check.h"
#include "bench/run/store_plan.h"
#include "bench/run/store_schema.h"
#include "bench/run/stored_run.h"

#include <unistd.h>

static bool attach(const Database *whole, const char *part)
{
    sqlite3_stmt *statement = database_prepare(whole, "ATTACH ? AS part");
    bool good = statement && sqlite3_bind_text(statement, 1, part, -1, SQLITE_STATIC) == SQLITE_OK &&
                database_finish(whole, statement);
    sqlite3_finalize(statement);
    return good;
}

static bool overlaps(const Database *whole, const char *part, bool *good)
{
    sqlite3_stmt *common = database_prepare(
        whole, "SELECT match, pair, half FROM part.game JOIN main.game USING (match, pair, half) LIMIT 1");
    bool found = common && database_step(whole, common, good);
    *good = *good && common;
    if (found)
        complain(part, 0,
                 "has game %d of pair %d of match %d, as a part before it has; expected it in one part",
                 sqlite3_column_int(common, 2), sqlite3_column_int(common, 1), sqlite3_column_int(common, 0));
    sqlite3_finalize(common);
    return found;
}

static const char copy_plan[] = "INSERT INTO main.experiment SELECT name, iif(name = 'share', '1/1', value)"
                                " FROM part.experiment;"
                                "INSERT INTO main.arm SELECT * FROM part.arm;"
                                "INSERT INTO main.match SELECT * FROM part.match;"
                                "INSERT INTO main.opening SELECT * FROM part.opening;";

static bool add_part(const Database *whole, const char *part, bool first)
{
    bool good = true;
    if (!attach(whole, part))
        return false;
    good = database_run(whole, "BEGIN") &&
           (!first || (schema_create(whole) && database_run(whole, copy_plan))) &&
           !overlaps(whole, part, &good) && good &&
           database_run(whole, "INSERT INTO main.game SELECT * FROM part.game; COMMIT");
    if (!good)
        sqlite3_exec(whole->handle, "ROLLBACK", NULL, NULL, NULL);
    return good && database_run(whole, "DETACH part");
}

/* Whether every part is a run, and all of one experiment. */
static bool are_of_one_experiment(char *const *parts, int count)
{
    Database first = {0}, other = {0};
    bool good = stored_run_open(&first, parts[0]) && store_check(&first);
    for (int i = 1; good && i < count; i++) {
        good = stored_run_open(&other, parts[i]) && store_check(&other) &&
               plan_is_the_same(&other, &first, true);
        database_close(&other);
    }
    database_close(&first);
    return good;
}

/* Into a new and empty file; messages call it by the name it is to get. */
static bool join(const char *path, const char *temporary, char *const *parts, int count)
{
    Database whole = {0};
    bool good = database_open(&whole, temporary, SQLITE_OPEN_READWRITE);
    whole.path = path;
    for (int i = 0; good && i < count; i++)
        good = add_part(&whole, parts[i], i == 0);
    good = good && database_run(&whole, "PRAGMA journal_mode = WAL");
    database_close(&whole);
    return good;
}

bool store_merge(const char *path, char *const *parts, int count)
{
    if (access(path, F_OK) == 0) {
        complain(path, 0, "is there already; expected the name of a new file");
        return false;
    }
    if (!are_of_one_experiment(parts, count))
        return false;
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    if (join(path, file.temporary, parts, count))
        return output_commit(&file);
    output_abandon(&file);
    return false;
}
