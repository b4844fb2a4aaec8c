/* README.md says what is: each of its commands has the options that it is given, and its pictures are there. */
#include "tests/bench/harness.h"

#include <sys/stat.h>

static const char line_begin[] = "\n    build/pawnvane-bench ";

static char *read_readme(void)
{
    FILE *file = fopen("README.md", "r");
    assert_non_null(file);
    char *text = harness_slurp(file);
    fclose(file);
    return text;
}

/* Fails unless the help of the command knows each --option of the line. */
static void assert_known(char *line)
{
    char arguments[64];
    char *word = strtok(line, " ");
    assert_non_null(word);
    snprintf(arguments, sizeof arguments, "%s --help", word);
    HarnessRun run = harness_run(arguments, "");
    if (run.status != 0)
        fail_msg("README.md: there is no command %s", word);
    while ((word = strtok(NULL, " ")) != NULL) {
        char option[64];
        if (strncmp(word, "--", 2) != 0)
            continue;
        snprintf(option, sizeof option, "\n  %s ", word);
        if (strstr(run.out, option) == NULL)
            fail_msg("README.md: %s has no option %s", line, word);
    }
    harness_free(&run);
}

static void its_commands_are_there(void **state)
{
    (void)state;
    int count = 0;
    char *readme = read_readme();
    for (const char *at = strstr(readme, line_begin); at != NULL; at = strstr(at + 1, line_begin), count++) {
        const char *line = at + strlen(line_begin);
        char copy[256];
        snprintf(copy, sizeof copy, "%.*s", (int)strcspn(line, "\n"), line);
        assert_known(copy);
    }
    assert_true(count > 25);
    free(readme);
}

/* Small enough to be shown at once: 100 KiB, a measure of our own. */
static void its_pictures_are_there_and_small(void **state)
{
    (void)state;
    int count = 0;
    char *readme = read_readme();
    for (const char *at = strstr(readme, "](bench/"); at != NULL; at = strstr(at + 1, "](bench/"), count++) {
        char path[128];
        struct stat file;
        snprintf(path, sizeof path, "%.*s", (int)strcspn(at + 2, ")"), at + 2);
        if (stat(path, &file) != 0 || file.st_size == 0 || file.st_size > 100 * 1024)
            fail_msg("README.md: %s is missing, or too large", path);
    }
    assert_true(count >= 6);
    free(readme);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(its_commands_are_there),
        cmocka_unit_test(its_pictures_are_there_and_small),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
