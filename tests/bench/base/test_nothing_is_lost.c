/* What was there stays, whatever the command line says: files that are both read and written, descriptors
 * that are closed, files of something else. */
#include "tests/bench/run/run_in.h"

#include "engine/protocol/descriptors.h"

#include <errno.h>
#include <fcntl.h>

/* ------------------------------------------------------------------------------------------- descriptors */

/* 0 if what the program opens next gets another number, and reading and writing fail as POSIX says of closed
 * descriptors. */
static int with_closed_descriptors(void)
{
    char byte;
    for (int descriptor = 0; descriptor < 3; descriptor++)
        close(descriptor);
    if (!descriptors_hold())
        return 1;
    if (open("/dev/null", O_RDWR) < 3)
        return 2;
    if (read(0, &byte, 1) != -1 || errno != EBADF)
        return 3;
    for (int descriptor = 1; descriptor < 3; descriptor++) {
        if (write(descriptor, "x", 1) != -1 || errno != EBADF)
            return 4;
    }
    return 0;
}

static void test_held(void **state)
{
    (void)state;
    int status;
    pid_t child = fork();
    if (child == 0)
        _exit(with_closed_descriptors());
    assert_true(child > 0);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

/* Those that are open stay as they are. */
static void test_untouched(void **state)
{
    (void)state;
    int ends[2];
    char byte;
    assert_int_equal(pipe(ends), 0);
    int kept = dup(STDIN_FILENO);
    assert_int_equal(dup2(ends[0], STDIN_FILENO), STDIN_FILENO);
    assert_true(descriptors_hold());
    assert_int_equal(write(ends[1], "x", 1), 1);
    assert_int_equal(read(STDIN_FILENO, &byte, 1), 1);
    assert_int_equal(dup2(kept, STDIN_FILENO), STDIN_FILENO);
    close(kept);
    close(ends[0]);
    close(ends[1]);
}

/* What is meant for people must not go into the file that was opened instead. */
static void test_closed_streams(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --store @/run.db");
    char *expected = run_dump(run_path(files, "run.db"));
    HarnessRun run = run_in(files, "duel " SMALL "--pairs 2 --seed 2 --store @/run.db 2>&-");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.out, "");
    assert_same_run(run_path(files, "run.db"), expected);
    harness_free(&run);

    run = run_in(files, "duel " SMALL "--pairs 2 --csv --store @/other.db >&-");
    assert_int_equal(run.status, 1);
    assert_string_equal(run.err, "pawnvane-bench: standard output: cannot be written: Bad file descriptor\n");
    assert_same_run(run_path(files, "other.db"), expected);
    harness_free(&run);

    run = run_in(files, "duel " SMALL "--pairs 2 --store @/third.db <&- >&- 2>&-");
    assert_int_equal(run.status, 1);
    assert_same_run(run_path(files, "third.db"), expected);
    harness_free(&run);
    free(expected);
}

/* The part has the name that a half-written file might have. */
static void test_merge_takes_no_name(void **state)
{
    RunFiles *files = *state;
    done(files, "duel " SMALL "--pairs 2 --store @/q.db.unfinished");
    char *expected = run_dump(run_path(files, "q.db.unfinished"));
    done(files, "merge @/q.db @/q.db.unfinished");
    assert_same_run(run_path(files, "q.db.unfinished"), expected);
    assert_same_run(run_path(files, "q.db"), expected);
    free(expected);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_held),
        cmocka_unit_test(test_untouched),
        RUN_TEST(test_closed_streams),
        RUN_TEST(test_merge_takes_no_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
