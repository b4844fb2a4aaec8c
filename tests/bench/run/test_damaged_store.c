/* The file of a run with rows that cannot be: every command that reads it says which row, and
 * does no more. */
#include "tests/bench/run/run_in.h"

#include "structure/structure.h"

/* What the sanitizers watch takes long, and a fuzz target of theirs reads rows, too. */
#ifdef PAWNVANE_SLOW
enum { EVERY = 3 };
#else
enum { EVERY = 1 };
#endif

/* Two matches of three arms, two pairs: eight games. */
#define PLAY "sweep " SMALL "--weights 50 --pairs 2 --store @/"

/* The schema forbids most of what the tests do, so it is another one meanwhile: without types, NOT NULL and
 * the rest (https://www.sqlite.org/pragma.html, writable_schema and ignore_check_constraints). */
static void damage(RunFiles *files, const char *sql)
{
    char command[256], back[512];
    const char *path = run_path(files, "damaged.db");
    snprintf(command, sizeof command, "cp %s/run.db %s", files->folder, path);
    assert_int_equal(system(command), 0);
    run_sql(path, "PRAGMA synchronous = OFF; PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = "
                  "replace(replace(replace(sql,"
                  " 'STRICT, ', ''), ') STRICT', ')'), ' NOT NULL', '') WHERE type = 'table'");
    char *together;
    assert_true(
        asprintf(&together, "PRAGMA synchronous = OFF; PRAGMA ignore_check_constraints = ON; %s", sql) > 0);
    run_sql(path, together);
    free(together);
    snprintf(back, sizeof back,
             "PRAGMA synchronous = OFF; ATTACH '%s/run.db' AS run; PRAGMA writable_schema = ON; UPDATE "
             "sqlite_schema AS bad SET sql ="
             " (SELECT sql FROM run.sqlite_schema AS good WHERE good.name = bad.name) WHERE type = 'table'",
             files->folder);
    run_sql(path, back);
}

/* What a sweep of the same plan, a report and a merge say of the file. */
static void assert_all_refuse(RunFiles *files, const char *part)
{
    char *before = run_listing(files);
    refused(files, 1, part, PLAY "damaged.db");
    refused(files, 1, part, "report @/damaged.db --json");
    refused(files, 1, part, "merge @/merged.db @/run.db @/damaged.db");
    char *after = run_listing(files);
    assert_string_equal(after, before);
    free(before);
    free(after);
}

static void test_rows(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *sql, *part;
    } cases[] = {
#define GAME(set) "UPDATE game SET " set " WHERE match = 1 AND pair = 0 AND half = 1"
#define IS(key, rest) "damaged.db: table " key ": " rest
#define IN_GAME(rest) IS("game, match 1, pair 0, half 1", rest)
        {GAME("half = 900"), IS("game, match 1, pair 0, half 900", "half is 900; expected 0 or 1")},
        {GAME("half = -1"), IS("game, match 1, pair 0, half -1", "half is -1; expected 0 or 1")},
        {GAME("half = 'first'"), "half is 'first'; expected 0 or 1"},
        {GAME("half = 4294967296"), "half is 4294967296; expected 0 or 1"},
        {GAME("white_points = 3"), IN_GAME("white_points is 3; expected 0, 1 or 2")},
        {GAME("white_points = -1"), IN_GAME("white_points is -1; expected 0, 1 or 2")},
        {GAME("white_points = NULL"), IN_GAME("white_points is NULL; expected 0, 1 or 2")},
        {GAME("white_points = 'all'"), IN_GAME("white_points is 'all'; expected 0, 1 or 2")},
        {GAME("white_points = 0.5"), IN_GAME("white_points is 0.5; expected 0, 1 or 2")},
        {GAME("white_points = x'01'"), IN_GAME("white_points is X'01'; expected 0, 1 or 2")},
        {GAME("pair = 2147483647"), "pair is 2147483647; expected an opening of the file"},
        {GAME("pair = 2"), "pair is 2; expected an opening of the file"},
        {GAME("pair = 4294967297"), "pair is 4294967297; expected an opening of the file"},
        {GAME("pair = -1"), IS("game, match 1, pair -1, half 1", "pair is -1; expected an opening")},
        {GAME("match = 77777"), "match is 77777; expected a match of the file"},
        {GAME("match = -1"), "match is -1; expected a match of the file"},
        {GAME("plies = -5"), IN_GAME("plies is -5; expected 0 to 1000")},
        {GAME("plies = 1001"), IN_GAME("plies is 1001; expected 0 to 1000")},
        {GAME("ending = NULL"), IN_GAME("ending is NULL; expected text")},
        {GAME("moves = x'653210'"), IN_GAME("moves is X'653210'; expected 2 bytes a ply")},
        {GAME("moves = 'e2e4'"), IN_GAME("moves is 'e2e4'; expected 2 bytes a ply")},
        {GAME("scores = NULL"), IN_GAME("scores is NULL; expected 2 bytes a ply")},
        {GAME("plies = plies + 1"), "; expected 2 bytes a ply"},
        {GAME("machine = NULL"), IN_GAME("machine is NULL; expected text")},
        {"UPDATE match SET arm_a = 77777 WHERE match = 1",
         IS("match, match 1", "arm_a is 77777; expected an arm of the file")},
        {"UPDATE match SET arm_b = -1 WHERE match = 0", IS("match, match 0", "arm_b is -1; expected an arm")},
        {"UPDATE match SET arm_b = NULL", IS("match, match 0", "arm_b is NULL; expected an arm")},
        {"UPDATE match SET arm_a = 'A'", IS("match, match 0", "arm_a is 'A'; expected an arm")},
        {"UPDATE match SET arm_a = 4294967296", "arm_a is 4294967296; expected an arm of the file"},
        {"UPDATE match SET match = 63 WHERE match = 1",
         IS("match, match 63", "match is 63; expected the next")},
        {"DELETE FROM match WHERE match = 0", IS("match, match 1", "match is 1; expected the next number")},
        {"UPDATE arm SET arm = 9 WHERE arm = 2", IS("arm, arm 9", "arm is 9; expected the next number")},
        {"UPDATE arm SET arm = -1 WHERE arm = 0", IS("arm, arm -1", "arm is -1; expected the next number")},
        {"DELETE FROM arm WHERE arm = 2", IS("match, match 1", "arm_a is 2; expected an arm of the file")},
        {"UPDATE arm SET weight = -1 WHERE arm = 1", IS("arm, arm 1", "weight is -1; expected 0 to 1000")},
        {"UPDATE arm SET weight = 4294967346 WHERE arm = 1", "weight is 4294967346; expected 0 to 1000"},
        {"UPDATE arm SET weight = 'heavy' WHERE arm = 1", "weight is 'heavy'; expected 0 to 1000"},
        {"UPDATE arm SET rule = 'firm' WHERE arm = 1",
         IS("arm, arm 1", "rule is 'firm'; expected strict or")},
        {"UPDATE arm SET rule = NULL WHERE arm = 1", IS("arm, arm 1", "rule is NULL; expected strict or")},
        {"UPDATE arm SET rule = 'a' || char(10, 27) || 'b'", IS("arm, arm 0", "rule is 'a\?\?b'; expected")},
        {"UPDATE arm SET rule = hex(zeroblob(5000))", IS("arm, arm 0", "rule is '0000000000")},
        {"UPDATE arm SET nodes = -1", IS("arm, arm 0", "nodes is -1; expected 0 to 1000000000000")},
        {"UPDATE arm SET nodes = 'many'", IS("arm, arm 0", "nodes is 'many'; expected 0 to 1000000000000")},
        {"UPDATE arm SET parameters = NULL", IS("arm, arm 0", "parameters is NULL; expected text")},
        {"UPDATE arm SET engine = x'00'", IS("arm, arm 0", "engine is X'00'; expected text")},
        {"UPDATE opening SET pair = 1000000 WHERE pair = 1",
         IS("opening, pair 1000000", "pair is 1000000; expected a pair of the plan")},
        {"UPDATE opening SET pair = -1 WHERE pair = 1",
         IS("opening, pair -1", "pair is -1; expected a pair of the plan")},
        {"DELETE FROM opening WHERE pair = 0", "pair is 0; expected an opening of the file"},
        {"UPDATE opening SET stratum = 'open'",
         IS("opening, pair 0", "stratum is 'open'; expected a stratum of the file")},
        {"UPDATE stratum SET stratum = 7 WHERE stratum = 0",
         IS("stratum, stratum 7", "stratum is 7; expected the next number from 0 on")},
        {"UPDATE stratum SET name = NULL", IS("stratum, stratum 0", "name is NULL; expected text")},
        {"UPDATE stratum SET pairs = 0", IS("stratum, stratum 0", "pairs is 0; expected 1 to 10000000")},
        {"UPDATE experiment SET value = 'half' WHERE name = 'share'",
         IS("experiment, name 'share'", "value is 'half'; expected k/n or partial")},
        {"UPDATE opening SET name = NULL", IS("opening, pair 0", "name is NULL; expected text")},
        {"UPDATE opening SET stratum = NULL",
         IS("opening, pair 0", "stratum is NULL; expected a stratum of the file")},
        {"UPDATE opening SET fen = x'ff'", IS("opening, pair 0", "fen is X'FF'; expected text")},
        {"UPDATE experiment SET value = 'joust' WHERE name = 'kind'",
         IS("experiment, name 'kind'", "value is 'joust'; expected duel, sweep or ladder")},
        {"UPDATE experiment SET value = 'noon' WHERE name = 'until'",
         IS("experiment, name 'until'", "value is 'noon'; expected pairs, interval or decided")},
        {"UPDATE experiment SET value = 'x1' WHERE name = 'seed'",
         IS("experiment, name 'seed'", "value is 'x1'; expected a number")},
        {"UPDATE experiment SET value = NULL WHERE name = 'seed'", "value is NULL; expected text"},
        {"INSERT INTO experiment VALUES ('until alpha', '')", "value is ''; expected a number"},
#undef GAME
#undef IS
#undef IN_GAME
    };
    done(files, PLAY "run.db");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i += EVERY) {
        damage(files, cases[i].sql);
        assert_all_refuse(files, cases[i].part);
    }
    /* What a merge compares first are the plans. */
    damage(files, "DELETE FROM match");
    refused(files, 1, "match is 0; expected a match of the file", PLAY "damaged.db");
    refused(files, 1, "match is 0; expected a match of the file", "report @/damaged.db --json");
    refused(files, 1, "it has \"nothing\"; expected \"match 0: 1, 0\"",
            "merge @/merged.db @/run.db @/damaged.db");
    damage(files, "INSERT INTO experiment VALUES ('until alpha', '')");
    /* A merge looks at a part that is alone, too. */
    refused(files, 1, "value is ''; expected a number", "merge @/merged.db @/damaged.db");
    damage(files, "UPDATE game SET half = 7 WHERE match = 1 AND pair = 0 AND half = 1");
    refused(files, 1, "half is 7; expected 0 or 1", "merge @/merged.db @/damaged.db");
    refused(files, 1, "half is 7; expected 0 or 1", "merge @/merged.db @/damaged.db --partial");
    damage(files, "UPDATE game SET pair = 'one' WHERE match = 1 AND pair = 0 AND half = 1");
    refused(files, 1, "pair is 'one'; expected an opening", "merge @/merged.db @/damaged.db --partial");
    /* The tests do no damage of their own. */
    damage(files, "SELECT 1");
    done(files, PLAY "damaged.db");
    done(files, "report @/damaged.db --json");
    done(files, "merge @/merged.db @/damaged.db");
}

/* More rows than there is room for. A sweep says that it has another plan. */
static void test_too_many_rows(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *sql, *part;
    } cases[] = {
        {"INSERT INTO experiment SELECT 'x' || i, '1' FROM i", "has too many settings; expected 64 at most"},
        {"INSERT INTO arm SELECT i + 3, 1, 'strict', 1, '', '' FROM i", "has too many arms; expected 64"},
        {"INSERT INTO match SELECT i + 2, 0, 1 FROM i", "has too many matches; expected 64 at most"},
        {"INSERT INTO stratum SELECT i + 2, 's' || i, 1 FROM i", "has too many strata; expected 32"},
    };
    done(files, PLAY "run.db");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char sql[256];
        snprintf(sql, sizeof sql,
                 "WITH RECURSIVE i(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM i WHERE i < 99) %s",
                 cases[i].sql);
        damage(files, sql);
        refused_unchanged(files, 1, "holds another experiment", PLAY "damaged.db");
        refused_unchanged(files, 1, cases[i].part, "report @/damaged.db --json");
        refused(files, 1, cases[i].part, "merge @/merged.db @/damaged.db --partial");
        assert_int_equal(unlink(run_path(files, "merged.db")), 0);
    }
}

static void test_schema(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *sql, *part;
    } cases[] = {
        {"DROP VIEW pair_result", "damaged.db: its pair_result is not as duel and sweep make it"},
        {"DROP VIEW pair_result; CREATE VIEW pair_result AS SELECT 0 AS match, 0 AS pair, 'near-miss' AS"
         " stratum, 99 AS points_a",
         "its pair_result is not as duel and sweep make it; expected the file of a run"},
        {"DROP VIEW pair_result; DROP TABLE game; CREATE VIEW game AS SELECT 0 AS match",
         "its game is not as duel and sweep make it"},
        {"DROP VIEW pair_result; ALTER TABLE match RENAME COLUMN arm_a TO first",
         "its match is not as duel and sweep make it"},
        {"CREATE TRIGGER t AFTER INSERT ON game BEGIN DELETE FROM arm; END",
         "its game is not as duel and sweep make it"},
    };
    done(files, PLAY "run.db");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char command[256];
        snprintf(command, sizeof command, "cp %s/run.db %s/damaged.db", files->folder, files->folder);
        assert_int_equal(system(command), 0);
        run_sql(run_path(files, "damaged.db"), cases[i].sql);
        assert_all_refuse(files, cases[i].part);
    }
    /* What somebody else has added is none of our business. */
    run_sql(run_path(files, "run.db"), "CREATE TABLE note (text); CREATE INDEX ending ON game (ending)");
    done(files, PLAY "run.db");
    done(files, "report @/run.db --json");
}

/* Pages that SQLite itself cannot read: the root of the first table is no page of a known kind
 * (https://www.sqlite.org/fileformat.html, section 1.6). */
static void test_pages(void **state)
{
    RunFiles *files = *state;
    done(files, PLAY "damaged.db");
    done(files, PLAY "run.db");
    int64_t root = run_number(run_path(files, "damaged.db"),
                              "SELECT rootpage FROM sqlite_schema WHERE name = 'experiment'");
    int64_t size = run_number(run_path(files, "damaged.db"), "PRAGMA page_size");
    FILE *file = fopen(run_path(files, "damaged.db"), "r+");
    assert_non_null(file);
    assert_int_equal(fseek(file, (long)((root - 1) * size), SEEK_SET), 0);
    assert_int_equal(fputc(99, file), 99);
    assert_int_equal(fclose(file), 0);
    assert_all_refuse(files, "damaged.db: database disk image is malformed");
}

/* The words that the check knows are those of the structure library. */
static void test_rules(void **state)
{
    (void)state;
    assert_int_equal(PS_RULE_COUNT, 2);
    assert_string_equal(ps_rule_name(PS_STRICT), "strict");
    assert_string_equal(ps_rule_name(PS_LOOSE), "loose");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        RUN_TEST(test_rows),  RUN_TEST(test_too_many_rows), RUN_TEST(test_schema),
        RUN_TEST(test_pages), cmocka_unit_test(test_rules),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
