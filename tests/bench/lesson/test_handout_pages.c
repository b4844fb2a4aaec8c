/* A sheet in pages: there at once, then with what the engine thinks, and nothing is lost. */
#include "bench/lesson/handout_games.h"
#include "bench/lesson/handout_pages.h"
#include "tests/bench/run/run_in.h"

/* The French Defence, Advance Variation (ECO C02): in the first game Black breaks at once, in the second not at all. */
#define FIRST "[White \"Ann\"]\n[Black \"Ben\"]\n\n1. e4 e6 2. d4 d5 3. e5 c5 4. c3 Nc6 1-0\n\n"
#define SECOND "[White \"Cat\"]\n[Black \"Dan\"]\n\n1. e4 e6 2. d4 d5 3. e5 a6 4. a3 h6 5. h3 b6 1/2-1/2\n"

static int write_games(void **state)
{
    run_files_setup(state);
    run_write(run_path(*state, "two.pgn"), FIRST SECOND);
    return 0;
}

static void assert_page(RunFiles *files, const char *name, const char *part, bool there)
{
    char *text = run_read(run_path(files, name));
    if ((strstr(text, part) != NULL) != there)
        fail_msg("%s: \"%s\" %s", name, part, there ? "is missing" : "is there");
    free(text);
}

static void each_game_has_its_page(void **state)
{
    RunFiles *files = *state;
    done(files,
         "handout @/two.pgn '4k3/8/8/3pp3/3PP3/8/8/4K3 w - -' --pages @/out --pgn @/out.pgn --nodes 1000");
    static const char *const links[] = {
        "<a href=\"1.html\">Ann – Ben, 1-0</a>", "<a href=\"2.html\">Cat – Dan, ½–½</a>",
        "<a href=\"3.html\">A position</a>", "Black&#39;s c5 was ready for three moves and never played."};
    for (size_t i = 0; i < sizeof links / sizeof *links; i++)
        assert_page(files, "out/index.html", links[i], true);
    assert_page(files, "out/index.html", "Not calculated yet", false);
    for (int i = 1; i <= 3; i++) {
        char name[32];
        snprintf(name, sizeof name, "out/%d.html", i);
        assert_page(files, name, "<a href=\"index.html\">All pages</a>", true);
        assert_page(files, name, "from searches of up to 1,000 positions each", true);
    }
    assert_page(files, "out/1.html", "1. Ann – Ben", true);
    assert_page(files, "out/1.html",
                "With 3...c5 Black plays the base lever as soon as it is ready. By calculation", true);
    assert_page(files, "out/1.html", "Cat", false);
    assert_page(files, "out/2.html", "2. Cat – Dan", true);
    assert_page(files, "out/3.html", "3. White to move", true);
    assert_page(files, "out.pgn", "[White \"Cat\"]", true);
    /* The folder may be there, and what stood in it besides stays. */
    run_write(run_path(files, "out/mine.txt"), "mine");
    done(files, "handout @/two.pgn --pages @/out --nodes 1000");
    assert_page(files, "out/mine.txt", "mine", true);
    assert_page(files, "out/index.html", "3.html", false);
}

/* Without nodes nothing is searched, as at first: the pages are there, and say that the engine's part is not. */
static void pages_need_no_search_to_be_there(void **state)
{
    RunFiles *files = *state;
    Handout handout = {.title = "At once"};
    Progress progress;
    char folder[128];
    progress_start(&progress, "games", 0, true);
    assert_true(handout_read_games(&handout, run_path(files, "two.pgn"), 0));
    snprintf(folder, sizeof folder, "%s", run_path(files, "at-once"));
    assert_true(handout_write_pages(&handout, folder, &progress));
    assert_page(files, "at-once/2.html", "The engine has not looked at this yet", true);
    assert_page(files, "at-once/2.html",
                "Black&#39;s lever c5 was ready for three moves, from move 3 to move 5, and was not played.",
                true);
    assert_page(files, "at-once/1.html", "With 3...c5 Black plays the base lever as soon as it is ready.</p>",
                true);
    handout_free(&handout);
}

static void nothing_is_lost(void **state)
{
    RunFiles *files = *state;
    run_write(run_path(files, "file"), "kept");
    HarnessRun run = run_in(files, "handout @/two.pgn --pages @/file --nodes 1000");
    assert_int_equal(run.status, 1);
    assert_non_null(
        strstr(run.err, "/file: cannot be made: File exists; expected a folder, or a name that is free\n"));
    harness_free(&run);
    assert_page(files, "file", "kept", true);
    /* Not all of the input can be read: what is there has perhaps more. */
    done(files, "handout @/two.pgn --pages @/out --nodes 1000");
    run_write(run_path(files, "out/1.html"), "kept");
    run = run_in(files, "handout @/two.pgn @/missing.pgn --pages @/out --nodes 1000");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "/out/index.html: stays as it is: not all of the input can be read"));
    harness_free(&run);
    assert_page(files, "out/1.html", "kept", true);
    run = run_in(files, "handout @/two.pgn");
    assert_int_equal(run.status, 2);
    assert_non_null(strstr(run.err, "handout: there is nothing to write; expected --html or --pages\n"));
    harness_free(&run);
}

#define PAGES_TEST(test) cmocka_unit_test_setup_teardown(test, write_games, run_files_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        PAGES_TEST(each_game_has_its_page),
        PAGES_TEST(pages_need_no_search_to_be_there),
        PAGES_TEST(nothing_is_lost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
