#include "bench/run/store_check.h"
#include "bench/base/complaint.h"
#include "bench/play/opening.h"
#include "bench/play/play.h"

enum { RULES_MAX = 9 };

/* What is right in a column, as an SQL expression (null: whatever is of its type) and in words. The schema
 * says most of this as well, but SQLite takes its word for rows that are there already. */
typedef struct Rule {
    const char *column, *type, *right, *expected;
} Rule;

typedef struct Table {
    const char *name;
    const char *key[3];
    Rule rules[RULES_MAX + 1];
} Table;

static const char from_0[] = "the next number from 0 on";

/* A primary key has each number once, so numbers below their count are all those from 0 on. */
static const Table tables[] = {
    {"experiment",
     {"name"},
     {{"name", "text", NULL, "text"},
      {"value", "text", NULL, "text"},
      {"value", "text", "name <> 'kind' OR value IN ('duel', 'sweep', 'ladder')", "duel, sweep or ladder"},
      {"value", "text", "name <> 'until' OR value IN ('pairs', 'interval', 'decided')",
       "pairs, interval or decided"},
      {"value", "text",
       "name <> 'share' OR value = 'partial' OR (value GLOB '[1-9]*/[1-9]*' AND value NOT GLOB '*[^0-9/]*')",
       "k/n or partial"},
      {"value", "text",
       "name IN ('kind', 'openings', 'openings hash', 'share', 'until')"
       " OR (value GLOB '*[0-9]*' AND value NOT GLOB '*[^-+.e0-9]*')",
       "a number"}}},
    {"arm",
     {"arm"},
     {{"arm", "integer", "arm BETWEEN 0 AND (SELECT count(*) FROM arm) - 1", from_0},
      {"weight", "integer", "weight BETWEEN 0 AND 1000", "0 to 1000"},
      {"rule", "text", "rule IN ('strict', 'loose')", "strict or loose"},
      {"nodes", "integer", "nodes BETWEEN 0 AND 1000000000000", "0 to 1000000000000"},
      {"parameters", "text", NULL, "text"},
      {"engine", "text", NULL, "text"}}},
    {"match",
     {"match"},
     {{"match", "integer", "match BETWEEN 0 AND (SELECT count(*) FROM match) - 1", from_0},
      {"arm_a", "integer", "arm_a IN (SELECT arm FROM arm)", "an arm of the file"},
      {"arm_b", "integer", "arm_b IN (SELECT arm FROM arm)", "an arm of the file"}}},
    {"stratum",
     {"stratum"},
     {{"stratum", "integer", "stratum BETWEEN 0 AND (SELECT count(*) FROM stratum) - 1", from_0},
      {"name", "text", NULL, "text"},
      {"pairs", "integer", "pairs BETWEEN 1 AND 10000000", "1 to 10000000"}}},
    {"opening",
     {"pair"},
     {{"pair", "integer", "pair BETWEEN 0 AND (SELECT sum(pairs) FROM stratum) - 1", "a pair of the plan"},
      {"name", "text", NULL, "text"},
      {"stratum", "text", "stratum IN (SELECT name FROM stratum)", "a stratum of the file"},
      {"fen", "text", NULL, "text"}}},
    {"game",
     {"match", "pair", "half"},
     {{"match", "integer", "match IN (SELECT match FROM match)", "a match of the file"},
      {"pair", "integer", "pair IN (SELECT pair FROM opening)", "an opening of the file"},
      {"half", "integer", "half IN (0, 1)", "0 or 1"},
      {"white_points", "integer", "white_points IN (0, 1, 2)", "0, 1 or 2"},
      {"ending", "text", NULL, "text"},
      {"plies", "integer", "plies BETWEEN 0 AND 1000", "0 to 1000"},
      {"moves", "blob", "length(moves) = 2 * plies", "2 bytes a ply"},
      {"scores", "blob", "length(scores) = 2 * plies", "2 bytes a ply"},
      {"machine", "text", NULL, "text"}}},
};

enum { TABLES = sizeof tables / sizeof *tables, GAMES = TABLES - 1 };

_Static_assert(GAME_PLIES_MAX == 1000, "as the rule about plies says");
_Static_assert(OPENINGS_DRAWN_MOST == 10000000, "as the rule about pairs says");

/* The query for the first row that is wrong: its key, and what is wrong. */
static char *query_of(const Table *table)
{
    sqlite3_str *sql = sqlite3_str_new(NULL);
    sqlite3_str_appendf(sql, "SELECT 'table %s", table->name);
    for (int i = 0; i < 3 && table->key[i]; i++)
        sqlite3_str_appendf(sql, ", %s ' || substr(quote(%s), 1, 60) || '", table->key[i], table->key[i]);
    sqlite3_str_appendall(sql, "', CASE");
    for (const Rule *rule = table->rules; rule->column; rule++)
        sqlite3_str_appendf(sql,
                            " WHEN typeof(%s) <> %Q OR NOT coalesce(%s, 0)"
                            " THEN '%s is ' || substr(quote(%s), 1, 60) || '; expected %q'",
                            rule->column, rule->type, rule->right ? rule->right : "1", rule->column,
                            rule->column, rule->expected);
    sqlite3_str_appendf(sql, " END AS wrong FROM %s WHERE wrong IS NOT NULL LIMIT 1", table->name);
    return sqlite3_str_finish(sql);
}

static bool check_table(const Database *database, const Table *table)
{
    char *sql = query_of(table);
    if (!sql) {
        complain(database->path, 0, "memory ran out");
        return false;
    }
    sqlite3_stmt *row = database_prepare(database, sql);
    bool good = row != NULL;
    if (good && database_step(database, row, &good)) {
        complain(database->path, 0, "%s: %s", database_text(row, 0), database_text(row, 1));
        good = false;
    }
    sqlite3_finalize(row);
    sqlite3_free(sql);
    return good;
}

static bool check_tables(const Database *database, size_t begin, size_t end)
{
    bool good = true;
    for (size_t i = begin; good && i < end; i++)
        good = check_table(database, &tables[i]);
    return good;
}

bool store_check(const Database *database)
{
    return check_tables(database, 0, TABLES);
}

bool store_check_plan(const Database *database)
{
    return check_tables(database, 0, GAMES);
}

bool store_check_games(const Database *database)
{
    return check_tables(database, GAMES, TABLES);
}

static bool is_number(sqlite3_stmt *row, int column, int64_t least, int64_t greatest)
{
    return sqlite3_column_type(row, column) == SQLITE_INTEGER && sqlite3_column_int64(row, column) >= least &&
           sqlite3_column_int64(row, column) <= greatest;
}

static bool is_bytes(sqlite3_stmt *row, int column, int size)
{
    return sqlite3_column_type(row, column) == SQLITE_BLOB && sqlite3_column_bytes(row, column) == size;
}

static bool is_right(sqlite3_stmt *row, const GameBounds *bounds)
{
    if (!is_number(row, GAME_MATCH, 0, bounds->matches - 1) ||
        !is_number(row, GAME_PAIR, 0, (int64_t)bounds->pairs - 1) || !is_number(row, GAME_HALF, 0, 1) ||
        !is_number(row, GAME_WHITE_POINTS, 0, 2) || !is_number(row, GAME_PLIES, 0, GAME_PLIES_MAX))
        return false;
    int size = 2 * sqlite3_column_int(row, GAME_PLIES);
    return is_bytes(row, GAME_MOVES, size) && is_bytes(row, GAME_SCORES, size) &&
           sqlite3_column_type(row, GAME_ENDING) == SQLITE_TEXT &&
           sqlite3_column_type(row, GAME_MACHINE) == SQLITE_TEXT &&
           (!bounds->strata || bounds->strata[sqlite3_column_int(row, GAME_PAIR)] != NO_STRATUM);
}

bool game_row_check(const Database *database, sqlite3_stmt *row, const GameBounds *bounds)
{
    if (is_right(row, bounds))
        return true;
    if (store_check_games(database))
        complain(database->path, 0, "a game is not of the plan; expected the file of a run");
    return false;
}
