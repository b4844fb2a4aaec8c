/* Names that cannot be read are told before the first file is, and the good ones give what they have. */
#include "tests/bench/run/run_in.h"

#define FRENCH "rnbqkbnr/ppp2ppp/4p3/3pP3/3P4/8/PPP2PPP/RNBQKBNR b KQkq - 0 3"
#define GAME "[Event \"?\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 *\n"

static int write_inputs(void **state)
{
    run_files_setup(state);
    RunFiles *files = *state;
    run_write(run_path(files, "good.epd"), FRENCH "\n");
    run_write(run_path(files, "good.pgn"), GAME);
    return 0;
}

/* Runs the command, whose standard error output comes with what it prints, and fails unless the status is 1 and the two
 * names come first. */
static char *told_first(RunFiles *files, const char *arguments)
{
    char missing[256];
    HarnessRun run = run_in(files, "%s 2>&1", arguments);
    int length = snprintf(
        missing, sizeof missing,
        "pawnvane-bench: %s/missing: cannot be opened: No such file or directory; expected a file to "
        "read\npawnvane-bench: %s: cannot be opened: Is a directory; expected a file to read\n",
        files->folder, files->folder);
    if (run.status != 1 || strncmp(run.out, missing, (size_t)length) != 0)
        fail_msg("%s: status %d: %s%s", arguments, run.status, run.out, run.err);
    char *rest = strdup(run.out + length);
    harness_free(&run);
    return rest;
}

static void assert_same_rest(RunFiles *files, const char *with_bad_names, const char *without)
{
    char *rest = told_first(files, with_bad_names);
    HarnessRun good = run_in(files, "%s", without);
    assert_done(&good);
    assert_string_equal(rest, good.out);
    free(rest);
    harness_free(&good);
}

static void test_printed(void **state)
{
    assert_same_rest(*state, "explain @/good.epd @/missing @ @/good.epd", "explain @/good.epd @/good.epd");
    assert_same_rest(*state, "census --json @/good.pgn @/missing @ @/good.pgn",
                     "census --json @/good.pgn @/good.pgn");
    assert_same_rest(*state, "find --grade firm @/good.pgn @/missing @ @/good.pgn",
                     "find --grade firm @/good.pgn @/good.pgn");
}

/* A file that is not there yet is made of what there is; one that is there may have more and stays. */
static void test_written(void **state)
{
    RunFiles *files = *state;
    free(told_first(files,
                    "census @/good.pgn @/missing @ --html @/1.html --positions @/1.epd --store @/1.db"));
    done(files, "census @/good.pgn --html @/2.html --positions @/2.epd --store @/2.db");
    static const char *const made[][2] = {{"1.html", "2.html"}, {"1.epd", "2.epd"}};
    for (size_t i = 0; i < sizeof made / sizeof *made; i++) {
        char *one = run_read(run_path(files, made[i][0])), *two = run_read(run_path(files, made[i][1]));
        assert_string_equal(one, two);
        free(one);
        free(two);
    }
    assert_int_equal(run_number(run_path(files, "1.db"), "SELECT count(*) FROM census_game"), 1);

    run_write(run_path(files, "1.html"), "kept");
    char *rest = told_first(files, "census @/good.pgn @/missing @ --html @/1.html");
    assert_non_null(strstr(rest, "/1.html: stays as it is: not all of the input can be read\n"));
    free(rest);
    char *kept = run_read(run_path(files, "1.html"));
    assert_string_equal(kept, "kept");
    free(kept);
}

static void test_sheet(void **state)
{
    RunFiles *files = *state;
    char command[512];
    HarnessRun run =
        run_in(files, "handout @/missing.epd @/good.epd @/gone.pgn --nodes 1000 --html @/1.html");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "/missing.epd: cannot be opened"));
    assert_non_null(strstr(run.err, "/gone.pgn: cannot be opened"));
    harness_free(&run);
    done(files, "handout @/good.epd --nodes 1000 --html @/2.html");
    snprintf(command, sizeof command, "cmp %s/1.html %s/2.html", files->folder, files->folder);
    assert_int_equal(system(command), 0);
    run_write(run_path(files, "1.html"), "kept");
    run = run_in(files, "handout @/missing.epd @/good.epd --nodes 1000 --html @/1.html");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "/1.html: stays as it is"));
    harness_free(&run);
    char *kept = run_read(run_path(files, "1.html"));
    assert_string_equal(kept, "kept");
    free(kept);
}

/* A survey takes the place of a survey only: not of a table of that name with other columns, of a view, of a file with
 * the marks of another program. */
static void test_foreign_store(void **state)
{
    static const char *const foreign[] = {
        "CREATE TABLE census_game (town TEXT, people INTEGER); INSERT INTO census_game VALUES ('Ulm', 1)",
        "CREATE VIEW towns AS SELECT 1 AS one",
        "PRAGMA application_id = 77",
        "PRAGMA user_version = 3",
    };
    RunFiles *files = *state;
    done(files, "census @/good.pgn --store @/own.db");
    done(files, "census @/good.pgn --store @/own.db");
    for (size_t i = 0; i < sizeof foreign / sizeof *foreign; i++) {
        char name[32], command[128];
        snprintf(name, sizeof name, "%zu.db", i);
        snprintf(command, sizeof command, "census @/good.pgn --store @/%s", name);
        run_write(run_path(files, name), "");
        run_sql(run_path(files, name), foreign[i]);
        refused_unchanged(files, 1, "expected a new file, or one that census has written", command);
    }
    run_sql(run_path(files, "own.db"), "CREATE INDEX mine ON census_game (file)");
    refused_unchanged(files, 1, "has an index mine; expected a new file",
                      "census @/good.pgn --store @/own.db");
}

/* The sanitizers watch: nothing is copied from nowhere. */
static void test_game_without_moves(void **state)
{
    RunFiles *files = *state;
    run_write(run_path(files, "empty.pgn"), "[Event \"?\"]\n\n*\n");
    done(files, "handout @/empty.pgn --nodes 1000 --html @/1.html");
}

#define INPUT_TEST(test) cmocka_unit_test_setup_teardown(test, write_inputs, run_files_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        INPUT_TEST(test_printed),
        INPUT_TEST(test_written),
        INPUT_TEST(test_sheet),
        INPUT_TEST(test_foreign_store),
        INPUT_TEST(test_game_without_moves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
