/* What is left when a command is told to end by a signal. */
#include "tests/bench/run/run_in.h"

#include "bench/base/interrupt.h"
#include "bench/base/output_file.h"

#include <fcntl.h>
#include <pthread.h>
#include <signal.h>

/* Until a command has something to keep, be it as slow as the sanitizers make it. */
#ifdef PAWNVANE_SLOW
enum { WORK_US = 6000000 };
#else
enum { WORK_US = 2500000 };
#endif

/* The tests may run below nohup(1) or in the background of a shell, and what these ignore is inherited. */
static void ignore_nothing(void)
{
    static const int numbers[] = {SIGHUP, SIGINT, SIGTERM};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        signal(numbers[i], SIG_DFL);
}

/* Starts the harness by way of the shell, in whose arguments @ stands for the folder; its outputs go to files there. */
static pid_t start(RunFiles *files, const char *arguments)
{
    const char *build = getenv("PAWNVANE_BUILD");
    char command[2048];
    size_t length =
        (size_t)snprintf(command, sizeof command, "exec %s/pawnvane-bench ", build ? build : "build");
    for (const char *at = arguments; *at; at++)
        length += (size_t)snprintf(command + length, sizeof command - length, "%.*s", *at == '@' ? 64 : 1,
                                   *at == '@' ? files->folder : at);
    snprintf(command + length, sizeof command - length, " >%s/out 2>%s/err", files->folder, files->folder);
    pid_t child = fork();
    if (child == 0) {
        ignore_nothing();
        execl("/bin/sh", "sh", "-c", command, (char *)NULL);
        _exit(127);
    }
    assert_true(child > 0);
    return child;
}

static void assert_ended_by(pid_t child, int number)
{
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    if (!WIFSIGNALED(status) || WTERMSIG(status) != number)
        fail_msg("status %#x, not signal %d", (unsigned)status, number);
}

/* By whichever of the signals that it got. */
static void assert_ended_by_a_signal(pid_t child)
{
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
}

/* Fails if there is a file in the folder whose name has that part. */
static void assert_no_file(const RunFiles *files, const char *part)
{
    char command[256];
    snprintf(command, sizeof command, "! ls %s | grep -e '%s'", files->folder, part);
    assert_int_equal(system(command), 0);
}

static bool has_game(const char *path)
{
    return access(path, F_OK) == 0 && run_number(path, "SELECT count(*) FROM sqlite_schema") > 0 &&
           run_number(path, "SELECT count(*) FROM game") > 0;
}

#define DUEL "duel --nodes 150 --table 1 --openings bench/openings/strata.epd --quiet --workers 2 "

/* A duel keeps its games, prints the result so far, and says how to go on; what it says can be run as it is, and ends
 * as if nothing had happened. */
static void test_duel(void **state)
{
    static const int numbers[] = {SIGINT, SIGTERM, SIGHUP};
    RunFiles *files = *state;
    done(files, DUEL "--pairs 40 --weight 100:0 --store @/whole.db");
    char *expected = run_dump(run_path(files, "whole.db"));
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        char store[128], name[32], arguments[256];
        snprintf(name, sizeof name, "it's %zu.db", i);
        snprintf(store, sizeof store, "%s", run_path(files, name));
        snprintf(arguments, sizeof arguments, DUEL "--pairs 40 --weight 100:0 --store \"@/%s\"", name);
        pid_t child = start(files, arguments);
        while (!has_game(store))
            usleep(1000);
        kill(child, numbers[i]);
        assert_ended_by(child, numbers[i]);
        assert_in_range(run_number(store, "SELECT count(*) FROM game"), 1, 79);
        char *out = run_read(run_path(files, "out")), *err = run_read(run_path(files, "err"));
        assert_non_null(strstr(out, " of 40 planned pairs."));
        char line[2048], end;
        /* One line, at whose end stands the command. */
        if (sscanf(err, "%*[^;]; to go on: %2000[^\n]%c", line, &end) != 2)
            fail_msg("said \"%s\"", err);
        strcat(line, " >/dev/null");
        assert_int_equal(system(line), 0);
        assert_same_run(store, expected);
        free(out);
        free(err);
    }
    free(expected);
    assert_no_file(files, "-lock$\\|-wal$\\|-shm$");
}

/* However soon the signal comes, no lock and no journal stays. */
static void test_soon(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *arguments, *beside;
    } cases[] = {
        {DUEL "--pairs 40 --store @/run.db", "run.db-lock"},
        {"census bench/games/masters.pgn.zst --quiet --store @/census.db", "census.db-journal"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char beside[128];
        snprintf(beside, sizeof beside, "%s", run_path(files, cases[i].beside));
        pid_t child = start(files, cases[i].arguments);
        while (access(beside, F_OK) != 0)
            usleep(10);
        kill(child, SIGINT);
        assert_ended_by(child, SIGINT);
        assert_no_file(files, "-lock$\\|-journal$\\|-wal$\\|-shm$");
    }
}

/* A sample and a file of openings hold what there was, and are good to read. */
static void test_kept(void **state)
{
    RunFiles *files = *state;
    static const struct {
        const char *arguments, *name, *use;
    } cases[] = {
        {"fit --games 1200 --nodes 200 --openings bench/openings/strata.epd --workers 2 --sample @/sample",
         "sample", "fit --sample @/sample --steps 4"},
        {"chance --games 1200 --nodes 200 --openings bench/openings/strata.epd --workers 2 --sample @/moves",
         "moves", "chance --sample @/moves"},
        {"openings --each 10000 --games 1000000 --workers 2 --out @/o.epd", "o.epd",
         "duel --nodes 60 --table 1 --adjudicate longest=4 --openings @/o.epd --quiet"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        pid_t child = start(files, cases[i].arguments);
        usleep(WORK_US);
        kill(child, SIGTERM);
        assert_ended_by(child, SIGTERM);
        char *err = run_read(run_path(files, "err"));
        if (!strstr(err, "interrupted: it keeps the ") || strchr(err, '\n') != err + strlen(err) - 1)
            fail_msg("said \"%s\"", err);
        free(err);
        assert_int_equal(access(run_path(files, cases[i].name), R_OK), 0);
        done(files, cases[i].use);
    }
    assert_no_file(files, "sample\\.\\|moves\\.\\|epd\\.");
}

/* The second signal ends it at once: what had been there stays, and nothing else. */
static void test_twice(void **state)
{
    RunFiles *files = *state;
    run_write(run_path(files, "o.epd"), "before\n");
    pid_t child = start(files, "openings --each 100000 --games 1000000 --workers 1 --out @/o.epd");
    int seen = 1;
    while (seen != 0) {
        char command[128];
        usleep(20000);
        snprintf(command, sizeof command, "ls %s | grep -q 'epd\\.'", files->folder);
        seen = system(command);
    }
    kill(child, SIGINT);
    kill(child, SIGTERM);
    kill(child, SIGTERM);
    assert_ended_by_a_signal(child);
    assert_no_file(files, "epd\\.");
}

/* Begins files and gives them up, until the process ends. */
static void *begin_files(void *path)
{
    OutputFile file;
    while (output_open(&file, path))
        output_abandon(&file);
    return NULL;
}

/* At whatever moment signals come, and to whichever thread: no file stays, and nobody waits for ever. */
static void test_moments(void **state)
{
    enum { CHILDREN = 200 };
    RunFiles *files = *state;
    char path[128];
    snprintf(path, sizeof path, "%s", run_path(files, "page.html"));
    for (int i = 0; i < CHILDREN; i++) {
        pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            pthread_t other;
            ignore_nothing();
            interrupt_prepare(0, NULL);
            if (pthread_create(&other, NULL, begin_files, path) == 0)
                begin_files(path);
            _exit(1);
        }
        usleep((useconds_t)(2000 + 37 * i));
        kill(child, SIGTERM);
        kill(child, SIGHUP);
        assert_ended_by_a_signal(child);
        assert_no_file(files, "page");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        RUN_TEST(test_duel),  RUN_TEST(test_soon),    RUN_TEST(test_kept),
        RUN_TEST(test_twice), RUN_TEST(test_moments),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
