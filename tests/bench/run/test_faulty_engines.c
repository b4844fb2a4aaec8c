/* Duels against engines that fail: tests/bench/play/faulty_engine says how. */
#include "tests/bench/run/run_in.h"

#include <limits.h>

/* The faulty engine in the folder by the name of its fault; with `by_turns`, only every other start of it fails, and
 * else the built engine plays. */
static void add_engine(RunFiles *files, const char *fault, bool by_turns)
{
    const char *build = getenv("PAWNVANE_BUILD");
    char path[PATH_MAX], good[64];
    assert_non_null(realpath("tests/bench/play/faulty_engine", path));
    assert_int_equal(symlink(path, run_path(files, fault)), 0);
    snprintf(path, sizeof path, "%s/pawnvane", build ? build : "build");
    char *whole = realpath(path, NULL);
    assert_non_null(whole);
    snprintf(good, sizeof good, "%s.good", fault);
    if (by_turns)
        assert_int_equal(symlink(whole, run_path(files, good)), 0);
    free(whole);
}

/* The run counts the lost game by its cause, goes on with a new start of the engine, and ends well. */
static void test_lost_and_on(void **state)
{
    static const struct {
        const char *fault, *limit, *text, *json, *termination;
    } cases[] = {
        {"ends", "", "\nLost because the engine ended: A 0, B 1 games.\n",
         "\"engine_ended\":{\"a\":0,\"b\":1}", "abandoned"},
        {"crashes", "", "\nLost because the engine ended: A 0, B 1 games.\n",
         "\"engine_ended\":{\"a\":0,\"b\":1}", "abandoned"},
        {"illegal", "", "\nLost by an illegal move: A 0, B 1 games.\n", "\"illegal_move\":{\"a\":0,\"b\":1}",
         "rules infraction"},
        {"drones", "", "\nLost on time: A 0, B 1 games.\n", "\"time\":{\"a\":0,\"b\":1}", "time forfeit"},
        {"hangs", "--clock 3+1", "\nLost on time: A 0, B 1 games.\n", "\"time\":{\"a\":0,\"b\":1}",
         "time forfeit"},
    };
    RunFiles *files = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char path[48], tag[64];
        add_engine(files, cases[i].fault, true);
        HarnessRun run = run_in(
            files,
            "duel " SMALL
            "--pairs 2 --adjudicate longest=8 --workers 1 %s --engine-b @/%s --store @/%s.db --pgn @/%s.pgn",
            cases[i].limit, cases[i].fault, cases[i].fault, cases[i].fault);
        assert_done(&run);
        if (!strstr(run.out, cases[i].text))
            fail_msg("%s: %s", cases[i].fault, run.out);
        harness_free(&run);
        HarnessRun json = run_in(files, "merge @/%s-whole.db @/%s.db --json", cases[i].fault, cases[i].fault);
        assert_done(&json);
        if (!strstr(json.out, cases[i].json))
            fail_msg("%s: %s", cases[i].fault, json.out);
        harness_free(&json);
        char command[128];
        snprintf(command, sizeof command, "report @/%s.db --html @/%s.html", cases[i].fault, cases[i].fault);
        done(files, command);
        snprintf(path, sizeof path, "%s.html", cases[i].fault);
        char *page = run_read(run_path(files, path));
        assert_non_null(strstr(page, ": A 0, B 1 games."));
        free(page);
        snprintf(path, sizeof path, "%s.pgn", cases[i].fault);
        snprintf(tag, sizeof tag, "[Termination \"%s\"]", cases[i].termination);
        char *games = run_read(run_path(files, path));
        assert_non_null(strstr(games, tag));
        free(games);
    }
}

/* After some games in a row the run ends and says what happened where; the games are kept, and the next call goes on
 * behind them. */
static void test_gives_up(void **state)
{
    RunFiles *files = *state;
    add_engine(files, "ends", false);
    for (int call = 1; call <= 2; call++) {
        char part[256];
        snprintf(part, sizeof part,
                 "/ends: the engine has ended with status 3, at move 1 of game %d of pair %d, opening \"",
                 call, call == 1 ? 3 : 5);
        HarnessRun run =
            run_in(files, "duel " SMALL "--pairs 6 --workers 1 --engine-b @/ends --store @/run.db");
        assert_int_equal(run.status, 1);
        if (!strstr(run.err, part) || strchr(run.err, '\n') != run.err + strlen(run.err) - 1 ||
            !strstr(run.err, "\": game 5 in a row lost by a fault of the engine; expected it to play"))
            fail_msg("said \"%s\"", run.err);
        harness_free(&run);
        assert_int_equal(run_number(run_path(files, "run.db"), "SELECT count(*) FROM game"), 5 * call);
        assert_int_equal(run_number(run_path(files, "run.db"),
                                    "SELECT count(*) FROM game WHERE ending <> 'engine ended'"
                                    " OR white_points <> CASE half WHEN 0 THEN 2 ELSE 0 END"),
                         0);
    }
}

static void assert_plain(const char *text)
{
    for (const char *at = text; *at; at++) {
        bool c1 = (unsigned char)at[0] == 0xC2 && (unsigned char)at[1] >= 0x80 && (unsigned char)at[1] < 0xA0;
        if ((*at > 0 && *at < ' ' && *at != '\n') || *at == 0x7F || c1)
            fail_msg("a control character %d in \"%s\"", *at, text);
    }
}

/* What an engine calls itself, and what a file says, comes to the terminal without control characters
 * (ISO/IEC 6429: escape, bell, and the control sequence introducer as one character). */
static void test_controls(void **state)
{
    RunFiles *files = *state;
    add_engine(files, "ends", false);
    setenv("NAME", "\\033[2JRed\\007 \\302\\23331m", 1);
    HarnessRun run = run_in(files, "duel " SMALL "--pairs 1 --engine-b @/ends --store @/run.db");
    unsetenv("NAME");
    assert_done(&run);
    assert_non_null(strstr(run.out, "?[2JRed? ??31m, file hash "));
    assert_plain(run.out);
    harness_free(&run);
    run_sql(
        run_path(files, "run.db"),
        "UPDATE arm SET engine = 'a' || char(27) || '[2J' || char(155) || 'b', parameters = char(7) || 'p';"
        "UPDATE stratum SET name = 's' || char(27) || ']0;' || char(7);"
        "UPDATE opening SET stratum = 's' || char(27) || ']0;' || char(7);");
    HarnessRun report = run_in(files, "report @/run.db");
    assert_int_equal(report.status, 0);
    assert_non_null(strstr(report.out, "a?[2J??b"));
    assert_plain(report.out);
    assert_plain(report.err);
    harness_free(&report);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        RUN_TEST(test_lost_and_on),
        RUN_TEST(test_gives_up),
        RUN_TEST(test_controls),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
