/* Runs the built harness as a user would, for the tests that need the whole program. */
#ifndef PAWNVANE_TESTS_HARNESS_H
#define PAWNVANE_TESTS_HARNESS_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

typedef struct HarnessRun {
    int status; /* exit status, -1 if a signal ended it */
    char *out, *err;
} HarnessRun;

static inline char *harness_slurp(FILE *file)
{
    size_t size = 0, capacity = 1 << 16;
    char *text = malloc(capacity + 1);
    assert_non_null(text);
    rewind(file);
    for (size_t got; (got = fread(text + size, 1, capacity - size, file)) > 0;) {
        size += got;
        if (size == capacity) {
            capacity *= 2;
            text = realloc(text, capacity + 1);
            assert_non_null(text);
        }
    }
    text[size] = '\0';
    return text;
}

/* What is in a file. To be freed. */
static inline char *harness_read_file(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    char *text = harness_slurp(file);
    fclose(file);
    return text;
}

/* Makes an empty file and gives its path. */
static inline void harness_temporary_path(char path[64])
{
    snprintf(path, 64, "/tmp/pawnvane-test-XXXXXX");
    int file = mkstemp(path);
    assert_true(file >= 0);
    close(file);
}

/* Runs pawnvane-bench with arguments written as for a shell, `input` on its standard input. The build
 * directory is that of the environment variable PAWNVANE_BUILD, or build/. */
static inline HarnessRun harness_run(const char *arguments, const char *input)
{
    const char *build = getenv("PAWNVANE_BUILD");
    FILE *in = tmpfile(), *out = tmpfile(), *err = tmpfile();
    char command[4096];
    assert_true(in && out && err);
    fputs(input, in);
    fflush(in);
    rewind(in);
    /* The arguments come last, so that what they redirect counts. */
    snprintf(command, sizeof command, "%s/pawnvane-bench <&%d >&%d 2>&%d %s", build ? build : "build",
             fileno(in), fileno(out), fileno(err), arguments);
    int status = system(command);
    HarnessRun run = {WIFEXITED(status) ? WEXITSTATUS(status) : -1, harness_slurp(out), harness_slurp(err)};
    fclose(in);
    fclose(out);
    fclose(err);
    return run;
}

static inline void harness_free(HarnessRun *run)
{
    free(run->out);
    free(run->err);
}

/* Fails unless the run ended with that status, printed one line of error with that part in it, and nothing
 * else. */
static inline void assert_refused(const char *arguments, const char *input, int status, const char *part)
{
    HarnessRun run = harness_run(arguments, input);
    if (run.status != status || strncmp(run.err, "pawnvane-bench: ", 16) != 0 || !strstr(run.err, part) ||
        strchr(run.err, '\n') != run.err + strlen(run.err) - 1 || *run.out)
        fail_msg("\"%s\": status %d, out \"%s\", err \"%s\"", arguments, run.status, run.out, run.err);
    harness_free(&run);
}

#endif
