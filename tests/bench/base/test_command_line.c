/* Command lines: values, mistakes, help, and the program as a whole. */
#include "bench/base/command_line.h"
#include "engine/protocol/version.h"
#include "tests/bench/harness.h"
#include "tests/bench/page/rendered.h"

typedef struct Values {
    bool flag;
    int64_t integer;
    double real;
    const char *text;
    int choice;
} Values;

/* Reads arguments behind the name of a command. Operands are left in argv from *count on. */
static bool read_arguments(Values *values, char **argv, int *argc, char ***operands, Status *status)
{
    static const char *const choices[] = {"red", "green", "blue", NULL};
    static const Usage usage = {"[OPTION]...", "Does nothing."};
    const Option options[] = {
        {.name = "flag", .help = "a flag", .flag = &values->flag},
        {.name = "integer",
         .argument = "N",
         .help = "a number",
         .integer = &values->integer,
         .least = -5,
         .greatest = 1000,
         .required = true},
        {.name = "real",
         .argument = "X",
         .help = "x",
         .real = &values->real,
         .real_least = 0,
         .real_greatest = 1},
        {.name = "text", .argument = "T", .help = "words", .text = &values->text},
        {.name = "choice",
         .argument = "C",
         .help = "a colour",
         .choice = &values->choice,
         .choices = choices},
        {0},
    };
    *operands = argv;
    for (*argc = 0; argv[*argc];)
        ++*argc;
    return command_line_read(&usage, options, argc, operands, status);
}

static void values_are_read(void **state)
{
    (void)state;
    char *argv[] = {"try",    "one", "--integer", "-5",   "--flag", "--real=0.25", "-",
                    "--text", "--x", "--choice",  "blue", "--",     "--flag",      NULL};
    Values values = {0};
    int argc;
    char **operands;
    Status status;
    assert_true(read_arguments(&values, argv, &argc, &operands, &status));
    assert_true(values.flag);
    assert_true(values.integer == -5);
    assert_true(values.real == 0.25);
    assert_string_equal(values.text, "--x");
    assert_int_equal(values.choice, 2);
    assert_int_equal(argc, 3);
    assert_string_equal(operands[0], "one");
    assert_string_equal(operands[1], "-");
    assert_string_equal(operands[2], "--flag");
}

static void defaults_stay(void **state)
{
    (void)state;
    char *argv[] = {"try", "--integer", "1000", NULL};
    Values values = {.real = 0.5, .text = "kept", .choice = 1};
    int argc;
    char **operands;
    Status status;
    assert_true(read_arguments(&values, argv, &argc, &operands, &status));
    assert_false(values.flag);
    assert_true(values.real == 0.5);
    assert_string_equal(values.text, "kept");
    assert_int_equal(values.choice, 1);
    assert_int_equal(argc, 0);
}

static void assert_help(const char *arguments, const char *const *lines)
{
    HarnessRun help = harness_run(arguments, "");
    assert_int_equal(help.status, 0);
    for (; *lines; lines++)
        if (!strstr(help.out, *lines))
            fail_msg("%s: no \"%s\" in\n%s", arguments, *lines, help.out);
    harness_free(&help);
}

/* The values that the commands start from, whatever else stands there. */
static void help_shows_the_defaults(void **state)
{
    (void)state;
    static const char *const duel[] = {"drawn ones (1)\n",         "lever term (100)\n",
                                       "strict, loose (strict)\n", "or decided (pairs)\n",
                                       "half its width (10)\n",    "the alternative (0.05)\n",
                                       "longest=400)\n",           NULL};
    static const char *const sweep[] = {"drawn ones (2)\n", "(25,50,100,150,200)\n", "(strict,loose)\n",
                                        NULL};
    static const char *const handout[] = {"to write\n", "processors (1000)\n", "best one (50)\n",
                                          "1 for the first\n", NULL};
    assert_help("duel --help", duel);
    assert_help("duel --seed 7 --precision 3 --rule loose --help", duel);
    assert_help("sweep --weights 10 --help", sweep);
    assert_help("handout --help", handout);
}

static void mistakes_are_refused(void **state)
{
    (void)state;
    static char *const mistakes[][6] = {
        {"try", NULL},
        {"try", "--integer", NULL},
        {"try", "--integer", "", NULL},
        {"try", "--integer", "1001", NULL},
        {"try", "--integer", "-6", NULL},
        {"try", "--integer", "12x", NULL},
        {"try", "--integer", "1.5", NULL},
        {"try", "--integer", "99999999999999999999999", NULL},
        {"try", "--integer", "1", "--real", "1.01", NULL},
        {"try", "--integer", "1", "--real", "nan", NULL},
        {"try", "--integer", "1", "--real", "1e999", NULL},
        {"try", "--integer", "1", "--choice", "yellow", NULL},
        {"try", "--integer", "1", "--choice", "", NULL},
        {"try", "--integer", "1", "--colour", "blue", NULL},
        {"try", "--integer", "1", "-z", NULL},
    };
    for (size_t i = 0; i < sizeof mistakes / sizeof *mistakes; i++) {
        char *argv[6];
        Values values = {.integer = 7, .real = 0.5, .choice = 1};
        int argc;
        char **operands;
        Status status = STATUS_DONE;
        memcpy(argv, mistakes[i], sizeof argv);
        if (read_arguments(&values, argv, &argc, &operands, &status))
            fail_msg("mistake %zu was accepted", i);
        assert_int_equal(status, STATUS_MISUSED);
        assert_true(values.real == 0.5);
        assert_int_equal(values.choice, 1);
    }
}

static void the_program_says_what_it_has(void **state)
{
    (void)state;
    HarnessRun run = harness_run("--version", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.out, "pawnvane-bench " PAWNVANE_VERSION "\n");
    harness_free(&run);

    run = harness_run("--help", "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    assert_int_equal(strncmp(run.out, "Usage: pawnvane-bench ", 22), 0);

    /* Every command in that list has a help of its own, with a line for each option. */
    int commands = 0;
    char *list = strstr(run.out, "Commands:\n") + strlen("Commands:\n");
    for (char *line = strtok(list, "\n"); line && strncmp(line, "  COMMAND", 9) != 0;
         line = strtok(NULL, "\n")) {
        char name[32], arguments[64], usage[64];
        assert_int_equal(sscanf(line, "%31s", name), 1);
        snprintf(arguments, sizeof arguments, "%s --help", name);
        snprintf(usage, sizeof usage, "Usage: pawnvane-bench %s", name);
        HarnessRun help = harness_run(arguments, "");
        assert_int_equal(help.status, 0);
        assert_string_equal(help.err, "");
        assert_int_equal(strncmp(help.out, usage, strlen(usage)), 0);
        assert_non_null(strstr(help.out, "\n  --help "));
        harness_free(&help);
        assert_refused(strcat(strcpy(arguments, name), " --nonsense"), "", 2, "--nonsense");
        commands++;
    }
    assert_true(commands >= 3);
    harness_free(&run);

    assert_refused("", "", 2, "no command");
    assert_refused("exlpain", "", 2, "there is no command \"exlpain\"; did you mean \"explain\"?");
    assert_refused("Handouts", "", 2, "did you mean \"handout\"?");
    assert_refused("sheet", "", 2, "expected one that");
    assert_refused("handout --htlm=x.html", "", 2, "unknown option --htlm=x.html; did you mean --html?");
    assert_refused("handout --paper x", "", 2, "--paper; expected one that");
    assert_refused("exlpain", "", 2, "exlpain");
}

static void output_that_does_not_arrive_is_a_failure(void **state)
{
    (void)state;
    /* /dev/full refuses every write (Linux, full(4)). */
    HarnessRun run = harness_run("perft --depth 1 >/dev/full", "");
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, "pawnvane-bench: standard output: cannot be written"));
    harness_free(&run);
}

static void perft_counts_and_refuses(void **state)
{
    (void)state;
    /* The initial position: OEIS A048987. */
    HarnessRun run = harness_run("perft --depth 3", "");
    assert_int_equal(run.status, 0);
    assert_int_equal(count_of(run.out, "\n"), 21);
    assert_non_null(strstr(run.out, "a2a3 380\n"));
    const char *last = strstr(run.out, "\nnodes ");
    assert_non_null(last);
    unsigned long nodes;
    double seconds;
    assert_int_equal(sscanf(last, "\nnodes %lu seconds %lf\n", &nodes, &seconds), 2);
    assert_int_equal(nodes, 8902);
    assert_true(seconds >= 0);
    harness_free(&run);

    assert_refused("perft", "", 2, "--depth");
    assert_refused("perft --depth 0", "", 2, "from 1 to");
    assert_refused("perft --depth 2 --fen '8/8/8/8/8/8/8/8 w - -'", "", 2, "exactly one king");
    assert_refused("perft --depth 2 --fen '4k3/8/8/8/8/8/8/4K3 w - - 0 1 trailing'", "", 2,
                   "text stands behind");
    assert_refused("perft --depth 2 e2e4", "", 2, "e2e4");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_are_read),
        cmocka_unit_test(defaults_stay),
        cmocka_unit_test(help_shows_the_defaults),
        cmocka_unit_test(mistakes_are_refused),
        cmocka_unit_test(the_program_says_what_it_has),
        cmocka_unit_test(output_that_does_not_arrive_is_a_failure),
        cmocka_unit_test(perft_counts_and_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
