/* Which of two searches comes nearer to a deep one. */
#include "bench/nearer/nearer.h"
#include "bench/nearer/nearer_positions.h"
#include "engine/evaluation/score.h"
#include "tests/bench/run/run_in.h"

#include <cjson/cJSON.h>
#include <limits.h>
#include <math.h>

#define SUITE "bench/positions/bratko-kopec.epd"
#define SUITES SUITE " bench/positions/structures.epd"

static void assert_near(double value, double expected)
{
    if (!(fabs(value - expected) < 1e-5))
        fail_msg("%.7f, expected %.7f", value, expected);
}

/* ---------------------------------------------------------------------------------------- the arithmetic */

/* Four positions: whose move is the deep one's, and the distances 10, 100, 0, 40 of A and 30, 300, 10, 40 of B, where 100
 * and 300 meet a lost score that is limited, and 0 and 10 a mate. */
static const NearerChoices by_hand[] = {
    {{{1, 60}, {2, 20}, {1, 50}}},
    {{{1, -900}, {1, 0}, {1, -2000}}},
    {{{2, 1500}, {1, 990}, {1, SCORE_MATE - 5}}},
    {{{2, -40}, {3, 40}, {1, 0}}},
};

static void distances_are_limited(void **state)
{
    (void)state;
    assert_int_equal(nearer_distance(-10, 15), 25);
    assert_int_equal(nearer_distance(290, -10), 300);
    assert_int_equal(nearer_distance(291, -10), 300);
    assert_int_equal(nearer_distance(1001, 999), 1);
    assert_int_equal(nearer_distance(-SCORE_MATE, SCORE_MATE), 300);
    assert_int_equal(nearer_distance(SCORE_MATE - 3, 1000), 0);
}

/* Differences of the move 1, 0, -1, 0 and of the distance -20, -200, -10, 0: the error of the mean of n values is the root
 * of their variance, by n - 1, over n. Student's t for 97.5 % and 3 degrees is 3.182446 (the common table has 3.182). */
static void numbers_are_those_computed_by_hand(void **state)
{
    (void)state;
    NearerSummary s;
    const size_t units[] = {0, 1, 2, 3};
    assert_true(nearer_summarise(by_hand, units, 4, 4, &s));
    assert_int_equal(s.positions, 4);
    assert_int_equal(s.units, 4);
    assert_near(s.same_move.arm[0].mean, 0.5);
    assert_near(s.same_move.arm[1].mean, 0.5);
    assert_near(s.same_move.difference.mean, 0);
    assert_near(s.same_move.difference.error, sqrt(2.0 / 3 / 4));
    assert_near(s.same_move.difference.interval.low, -3.182446 * sqrt(2.0 / 3 / 4));
    assert_near(s.distance.arm[0].mean, 37.5);
    assert_near(s.distance.arm[1].mean, 95);
    assert_near(s.distance.difference.mean, -57.5);
    assert_near(s.distance.difference.error, sqrt(27275.0 / 3 / 4));
}

/* The first and the third position are of one game, whose differences sum up to -30: off the mean by 85, the others by
 * 142.5 and 57.5. Student's t for 97.5 % and 2 degrees is 4.3026527 (the common table has 4.303). */
static void positions_of_a_game_are_one_unit(void **state)
{
    (void)state;
    NearerSummary s;
    const size_t units[] = {1, 0, 1, 2};
    const double error = sqrt(1.5 * (85 * 85 + 142.5 * 142.5 + 57.5 * 57.5)) / 4;
    assert_true(nearer_summarise(by_hand, units, 4, 3, &s));
    assert_int_equal(s.units, 3);
    assert_near(s.distance.difference.mean, -57.5);
    assert_near(s.distance.difference.error, error);
    assert_near(s.distance.difference.interval.high, -57.5 + 4.3026527 * error);
    assert_true(nearer_summarise(by_hand, units, 1, 1, &s));
    assert_true(isnan(s.distance.difference.error));
}

/* ------------------------------------------------------------------------------------------ the positions */

#define KINGS "4k3/8/8/8/8/8/4P3/4K3 w - -"

static void games_are_told_by_their_numbers(void **state)
{
    RunFiles *files = *state;
    NearerPositions p = {0};
    char first[128];
    static const size_t expected[] = {3, 0, 3, 1, 2, 6, 6, 4, 5};
    snprintf(first, sizeof first, "%s", run_path(files, "first.epd"));
    run_write(first,
              KINGS " c8 \"7\";\n" KINGS "\n" KINGS " c8 \"7\";\n" KINGS " c8 \"a draw\";\n" KINGS "\n");
    run_write(run_path(files, "second.epd"),
              KINGS " c8 \"7\";\n" KINGS " c8 \"7\";\n" KINGS " id \"7\";\n" KINGS " c8 \"\";\n");
    assert_true(nearer_positions_read(&p, first));
    assert_int_equal(p.unit_count, 4);
    assert_true(nearer_positions_read(&p, run_path(files, "second.epd")));
    assert_int_equal(p.count, 9);
    assert_int_equal(p.unit_count, 7);
    assert_true(p.by_game);
    for (size_t i = 0; i < p.count; i++)
        assert_int_equal(p.units[i], expected[i]);
    nearer_positions_free(&p);
    assert_true(nearer_positions_read(&p, SUITE));
    assert_int_equal(p.unit_count, 24);
    assert_false(p.by_game);
    nearer_positions_free(&p);
}

/* --------------------------------------------------------------------------------------------- the command */

/* What the command prints as JSON, to be freed. */
static cJSON *ask(const char *arguments)
{
    char all[2048];
    snprintf(all, sizeof all, "nearer --table 1 --json %s", arguments);
    HarnessRun run = harness_run(all, "");
    assert_done(&run);
    cJSON *object = cJSON_Parse(run.out);
    assert_non_null(object);
    harness_free(&run);
    return object;
}

static double number(const cJSON *object, const char *name, const char *part)
{
    const cJSON *value = cJSON_GetObjectItem(cJSON_GetObjectItem(object, name), part);
    if (!cJSON_IsNumber(value))
        fail_msg("there is no number %s of %s", part, name);
    return value->valuedouble;
}

static const char *const names[] = {"same_move", "distance"};

static void assert_no_difference(const cJSON *object)
{
    static const char *const parts[] = {"difference", "standard_error", "low", "high"};
    for (int i = 0; i < 2; i++) {
        for (int k = 0; k < 4; k++)
            assert_true(number(object, names[i], parts[k]) == 0);
        assert_true(number(object, names[i], "a") == number(object, names[i], "b"));
        assert_true(number(object, names[i], "a") > 0);
    }
}

static void the_same_arms_differ_in_nothing(void **state)
{
    (void)state;
    cJSON *object = ask(SUITE " --nodes 300 --deep 3000");
    assert_no_difference(object);
    assert_int_equal(cJSON_GetObjectItem(object, "positions")->valueint, 24);
    assert_string_equal(cJSON_GetObjectItem(object, "unit")->valuestring, "position");
    cJSON_Delete(object);
}

/* The engine as a program searches as it does built in. */
static void a_program_can_be_an_arm(void **state)
{
    (void)state;
    char arguments[PATH_MAX + 64];
    const char *build = getenv("PAWNVANE_BUILD");
    snprintf(arguments, sizeof arguments, SUITE " --nodes 300 --deep 3000 --weight 50 --engine-b %s/pawnvane",
             build ? build : "build");
    cJSON *object = ask(arguments);
    assert_no_difference(object);
    assert_non_null(strstr(cJSON_GetObjectItem(object, "b")->valuestring, "played by"));
    cJSON_Delete(object);
}

/* Sixteen times the nodes come nearer, and clearly so; the other way round the same numbers have changed sides. */
static void more_nodes_are_nearer(void **state)
{
    (void)state;
    cJSON *object = ask(SUITES " --nodes 100:1600 --deep 4000"),
          *other = ask(SUITES " --nodes 1600:100 --deep 4000");
    assert_true(number(object, "same_move", "high") < 0);
    assert_true(number(object, "distance", "low") > 0);
    for (int i = 0; i < 2; i++) {
        assert_true(number(object, names[i], "a") == number(other, names[i], "b"));
        assert_true(number(object, names[i], "b") == number(other, names[i], "a"));
        assert_true(number(object, names[i], "difference") == -number(other, names[i], "difference"));
        assert_true(number(object, names[i], "low") == -number(other, names[i], "high"));
    }
    cJSON_Delete(object);
    cJSON_Delete(other);
}

/* Neither the deep search nor arm A knows of what arm B is, and no search of the ones before it. */
static void no_search_knows_of_another(void **state)
{
    (void)state;
    cJSON *object = ask(SUITE " --nodes 300 --deep 3000"),
          *other = ask(SUITE " --nodes 300:2000 --deep 3000 --weight 100:0 --set B.shift=0"),
          *twice = ask(SUITE " " SUITE " --nodes 300 --deep 3000");
    for (int i = 0; i < 2; i++) {
        assert_true(number(object, names[i], "a") == number(other, names[i], "a"));
        assert_true(number(object, names[i], "b") != number(other, names[i], "b"));
        assert_true(number(object, names[i], "a") == number(twice, names[i], "a"));
        assert_true(number(object, names[i], "b") == number(twice, names[i], "b"));
    }
    assert_string_equal(cJSON_GetObjectItem(other, "deep")->valuestring,
                        "weight 100, strict, 3000 nodes a move");
    assert_string_equal(cJSON_GetObjectItem(other, "b")->valuestring,
                        "weight 0, strict, 2000 nodes a move, shift=0");
    cJSON_Delete(object);
    cJSON_Delete(other);
    cJSON_Delete(twice);
}

static void output_does_not_depend_on_workers(void **state)
{
    (void)state;
    static const char *const forms[] = {"", "--json", "--csv"};
    for (int i = 0; i < 3; i++) {
        char arguments[128];
        snprintf(arguments, sizeof arguments,
                 "nearer " SUITE " --nodes 200:400 --deep 1000 --table 1 %s --workers 1", forms[i]);
        HarnessRun alone = harness_run(arguments, "");
        arguments[strlen(arguments) - 1] = '3';
        HarnessRun together = harness_run(arguments, "");
        assert_done(&alone);
        assert_string_equal(alone.out, together.out);
        if (i == 0) {
            assert_non_null(strstr(alone.out, "\n24 positions, each a unit of its own.\n"));
            assert_non_null(strstr(alone.out, "1000 nodes a move, the defaults of this engine\n"));
        }
        if (i < 2)
            assert_non_null(strstr(alone.out,
                                   "A search that errs as the deep one does looks near; what gains "
                                   "here is confirmed by games."));
        else
            assert_non_null(strstr(alone.out, "\nsame_move,24,24,0."));
        harness_free(&alone);
        harness_free(&together);
    }
}

/* One position says nothing of others. */
static void one_position_has_no_interval(void **state)
{
    (void)state;
    HarnessRun run = harness_run("nearer - --nodes 50 --deep 100 --table 1 --csv", KINGS " c8 \"3\";\n");
    assert_done(&run);
    assert_non_null(strstr(run.out, "\nsame_move,1,1,"));
    assert_non_null(strstr(run.out, ",0.000000,,,\n"));
    harness_free(&run);
    run = harness_run("nearer - --nodes 50 --deep 100 --table 1", KINGS " c8 \"3\";\n" KINGS " c8 \"3\";\n");
    assert_done(&run);
    assert_non_null(strstr(run.out, "2 positions in 1 unit: those of a game (c8) are one"));
    assert_non_null(strstr(run.out, "  one cannot tell\n"));
    harness_free(&run);
}

/* ---------------------------------------------------------------------------------- deep searches in a file */

#define OTHER_KINGS "4k3/4p3/8/8/8/8/8/4K3 b - -"

/* What the command prints as CSV of the positions, with the deep searches in "kept" of the folder. */
static char *ask_keeping(RunFiles *files, const char *positions)
{
    char path[128];
    snprintf(path, sizeof path, "%s", run_path(files, "positions.epd"));
    run_write(path, positions);
    HarnessRun run =
        run_in(files, "nearer @/positions.epd --keep @/kept --nodes 50:90 --deep 400 --table 1 --csv");
    assert_done(&run);
    free(run.err);
    return run.out;
}

/* What is kept is not searched again, and what is searched comes beside it. */
static void deep_searches_are_kept(void **state)
{
    RunFiles *files = *state;
    char kept[128], name[256] = "";
    snprintf(kept, sizeof kept, "%s", run_path(files, "kept"));
    char *first = ask_keeping(files, KINGS "\n" KINGS "\n"), *one = run_read(kept),
         *second = ask_keeping(files, KINGS "\n" KINGS "\n"), *same = run_read(kept);
    assert_string_equal(first, second);
    assert_string_equal(one, same);
    int score = 0, read = 0;
    char move[8];
    if (sscanf(one, "# Deep searches by %255[^\n]\n" KINGS " hmvc 0; fmvn 1; acn 400; ce %d; pv %7[^;];\n%n",
               name, &score, move, &read) != 3 ||
        one[read] != '\0')
        fail_msg("wrote \"%s\"", one);
    assert_non_null(strstr(name, "Pawnvane "));
    /* Another position comes beside it; the counter of moves makes another of it, too. */
    free(ask_keeping(files, OTHER_KINGS "\n" KINGS " hmvc 60;\n"));
    char *three = run_read(kept);
    assert_non_null(strstr(three, "\n" KINGS " hmvc 0; fmvn 1; acn 400; ce "));
    assert_non_null(strstr(three, "\n" OTHER_KINGS " hmvc 0;"));
    assert_non_null(strstr(three, "\n" KINGS " hmvc 60;"));
    /* A score that no search gave is taken for what it is, from another engine as well. */
    char text[512];
    snprintf(text, sizeof text, "# Deep searches by a tortoise\n" KINGS " acn 400; ce -1000; pv %s;\n", move);
    run_write(kept, text);
    char *far = ask_keeping(files, KINGS "\n");
    assert_non_null(strstr(far, "\ndistance,1,1,300.000000,300.000000,0.000000,,,\n"));
    char *after = run_read(kept);
    assert_string_equal(after, text);
    free(first), free(one), free(second), free(same), free(three), free(far), free(after);
}

static void a_file_of_other_searches_is_refused(void **state)
{
    RunFiles *files = *state;
    static const char head[] = "# Deep searches by a tortoise\n";
    static const struct {
        const char *head, *line, *part;
    } cases[] = {
        {head, OTHER_KINGS " acn 400; ce 5; pv e5;",
         "/kept: is by a tortoise and has no search of " KINGS " 0 1;"},
        {head, KINGS " acn 500; ce 5; pv e4;", "/kept:2: acn is 500 and --deep 400; expected the same"},
        {head, KINGS " ce 5; pv e4;", "/kept:2: the line is no deep search; expected acn, ce and pv"},
        {head, KINGS " acn 400; ce 32001; pv e4;", "/kept:2: the line is no deep search"},
        {head, KINGS " acn 400; ce 5; pv e4 e5;", "/kept:2: pv has \"e5\""},
        {head, KINGS " acn 400; ce 5; pv e5;", "/kept:2: pv has \"e5\""},
        {head, KINGS " acn 400; ce 5;", "/kept:2: the line is no deep search"},
        {"", KINGS " acn 400; ce 5; pv e4;", "/kept:1: does not begin with \"# Deep searches by \""},
    };
    char text[256], arguments[512];
    run_write(run_path(files, "positions.epd"), KINGS "\n");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        snprintf(text, sizeof text, "%s%s\n", cases[i].head, cases[i].line);
        run_write(run_path(files, "kept"), text);
        snprintf(arguments, sizeof arguments, "nearer %s/positions.epd --keep %s/kept --nodes 50 --deep 400",
                 files->folder, files->folder);
        assert_refused(arguments, "", 1, cases[i].part);
        char *after = run_read(run_path(files, "kept"));
        assert_string_equal(after, text);
        free(after);
    }
    assert_refused("nearer - --keep /nonexistent/kept", KINGS, 1, "/nonexistent/kept");
}

static void mistakes_get_one_line(void **state)
{
    (void)state;
    assert_refused("nearer - --set A.clock_hard=500", KINGS, 2,
                   "--set clock_hard has no say without a clock");
    assert_refused("nearer", "", 2, "nearer: there are no positions; expected one EPD file or more");
    assert_refused("nearer - --json --csv", KINGS, 2, "both --json and --csv");
    assert_refused("nearer - --nodes 0", KINGS, 2, "--nodes is \"0\"; expected a whole number above 0");
    assert_refused("nearer - --nodes 5:6 --deep 6", KINGS, 2,
                   "--deep is 6 and arm B has 6 nodes; expected more for the deep search");
    assert_refused("nearer - --set B.frobnicate=1", KINGS, 2, "there is no parameter frobnicate");
    assert_refused("nearer - --engine-b x --set shift=0", KINGS, 2,
                   "nearer: --set is for the engine built in; expected it for an arm without --engine-b");
    assert_refused("nearer - --workers 0", KINGS, 2, "--workers");
    assert_refused("nearer -", "", 1, "nearer: there is no position to search");
    assert_refused("nearer - --engine-a /nonexistent/engine", KINGS, 1, "/nonexistent/engine");
    assert_refused("nearer /nonexistent/suite.epd", "", 1, "/nonexistent/suite.epd");
    assert_refused("nearer -", "7k/8/5KQ1/8/8/8/8/8 b - -\n", 1, "1: the game is over here");
    assert_refused("nearer -", "8/8/8 w - -\n", 1, ":1: ");
    assert_refused("nearer -", "1r2k3/8/8/8/8/8/8/1R2K3 w B -\n", 1, "one of Chess960");
}

/* The good line is still searched, and the status says that something was wrong. */
static void bad_lines_are_left_out(void **state)
{
    (void)state;
    HarnessRun run =
        harness_run("nearer - --nodes 50 --deep 100 --table 1 --csv", "8/8/8 w - -\n" KINGS "\n");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, ":1: "));
    assert_ptr_equal(strchr(run.err, '\n'), run.err + strlen(run.err) - 1);
    assert_non_null(strstr(run.out, "\nsame_move,1,1,"));
    harness_free(&run);
}

/* However many workers it fails. */
static void a_faulty_program_is_told_of_once(void **state)
{
    RunFiles *files = *state;
    char source[PATH_MAX], arguments[512];
    assert_non_null(realpath("tests/bench/play/faulty_engine", source));
    static const char *const faults[][2] = {
        {"illegal", "illegal: the engine plays \"a1a1\" in "},
        {"ends", "ends: the engine has ended with status 3; expected a move in each position"},
    };
    for (int i = 0; i < 2; i++) {
        assert_int_equal(symlink(source, run_path(files, faults[i][0])), 0);
        snprintf(arguments, sizeof arguments,
                 "nearer " SUITE " --nodes 50 --deep 100 --workers 3 --engine-a %s", files->path);
        assert_refused(arguments, "", 1, faults[i][1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(distances_are_limited),
        cmocka_unit_test(numbers_are_those_computed_by_hand),
        cmocka_unit_test(positions_of_a_game_are_one_unit),
        cmocka_unit_test_setup_teardown(games_are_told_by_their_numbers, run_files_setup, run_files_teardown),
        cmocka_unit_test(the_same_arms_differ_in_nothing),
        cmocka_unit_test(a_program_can_be_an_arm),
        cmocka_unit_test(more_nodes_are_nearer),
        cmocka_unit_test(no_search_knows_of_another),
        cmocka_unit_test(output_does_not_depend_on_workers),
        cmocka_unit_test(one_position_has_no_interval),
        cmocka_unit_test_setup_teardown(deep_searches_are_kept, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(a_file_of_other_searches_is_refused, run_files_setup,
                                        run_files_teardown),
        cmocka_unit_test(mistakes_get_one_line),
        cmocka_unit_test(bad_lines_are_left_out),
        cmocka_unit_test_setup_teardown(a_faulty_program_is_told_of_once, run_files_setup,
                                        run_files_teardown),
    };
    return cmocka_run_group_tests_name("nearer", tests, NULL, NULL);
}
