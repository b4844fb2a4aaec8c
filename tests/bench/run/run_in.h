/* Runs of the harness in a folder of their own. */
#ifndef PAWNVANE_TESTS_RUN_IN_H
#define PAWNVANE_TESTS_RUN_IN_H

#include "tests/bench/harness.h"
#include "tests/bench/run/run_files.h"

/* Small games; what a run is like does not depend on their size. */
#define SMALL "--nodes 60 --table 1 --adjudicate longest=60 --openings bench/openings/strata.epd --quiet "

static inline HarnessRun run_in(RunFiles *files, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Runs the harness, in whose arguments @ stands for the folder. */
static inline HarnessRun run_in(RunFiles *files, const char *format, ...)
{
    char arguments[1024], expanded[4000];
    size_t length = 0;
    va_list values;
    va_start(values, format);
    vsnprintf(arguments, sizeof arguments, format, values);
    va_end(values);
    for (const char *at = arguments; *at; at++)
        length += (size_t)snprintf(expanded + length, sizeof expanded - length, "%.*s", *at == '@' ? 64 : 1,
                                   *at == '@' ? files->folder : at);
    return harness_run(expanded, "");
}

static inline void assert_done(HarnessRun *run)
{
    if (run->status != 0 || *run->err)
        fail_msg("status %d: %s", run->status, run->err);
}

static inline void done(RunFiles *files, const char *arguments)
{
    HarnessRun run = run_in(files, "%s", arguments);
    assert_done(&run);
    harness_free(&run);
}

static inline void refused(RunFiles *files, int status, const char *part, const char *arguments)
{
    HarnessRun run = run_in(files, "%s", arguments);
    if (run.status != status || strncmp(run.err, "pawnvane-bench: ", 16) != 0 || !strstr(run.err, part) ||
        strchr(run.err, '\n') != run.err + strlen(run.err) - 1 || *run.out)
        fail_msg("\"%s\": status %d, out \"%s\", err \"%s\"", arguments, run.status, run.out, run.err);
    harness_free(&run);
}

/* All files of the folder with their sizes and checksums: POSIX cksum. What SQLite makes to read a database
 * does not count. To be freed. */
static inline char *run_listing(const RunFiles *files)
{
    char command[128], *text = NULL;
    size_t size = 0;
    snprintf(command, sizeof command, "cd %s && ls | grep -v -e '-wal$' -e '-shm$' | xargs cksum",
             files->folder);
    FILE *listing = popen(command, "r");
    assert_non_null(listing);
    assert_true(getdelim(&text, &size, '\0', listing) > 0);
    assert_int_equal(pclose(listing), 0);
    return text;
}

/* As refused(), and no file of the folder has changed, gone or come. */
static inline void refused_unchanged(RunFiles *files, int status, const char *part, const char *arguments)
{
    char *before = run_listing(files);
    refused(files, status, part, arguments);
    char *after = run_listing(files);
    if (strcmp(before, after) != 0)
        fail_msg("\"%s\" made of\n%s\nthis:\n%s", arguments, before, after);
    free(before);
    free(after);
}

#define RUN_TEST(test) cmocka_unit_test_setup_teardown(test, run_files_setup, run_files_teardown)

#endif
