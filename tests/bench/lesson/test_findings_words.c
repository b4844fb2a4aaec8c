/* The sentences of handout --findings are those of README.md, each of them. */
#include "tests/bench/harness.h"
#include "tests/bench/run/run_files.h"

#include "bench/lesson/findings_words.h"

static char *sheet(RunFiles *files, const char *options)
{
    char command[512];
    snprintf(command, sizeof command,
             "handout \"4k3/2p2p2/4p3/3pP3/3P4/8/8/4K3 b - -\" --nodes 1000 --quiet %s --html %s/sheet.html",
             options, files->folder);
    HarnessRun run = harness_run(command, "");
    if (run.status != 0)
        fail_msg("%s: status %d, err \"%s\"", command, run.status, run.err);
    harness_free(&run);
    return run_read(run_path(files, "sheet.html"));
}

static void the_sentences_of_the_readme_stand_at_the_foot(void **state)
{
    char *readme = run_read("README.md"), *page = sheet(*state, "--findings"), *without = sheet(*state, "");
    for (int i = 0; i < FINDINGS_WORDS; i++) {
        assert_true(strlen(findings_words[i]) > 40);
        if (strstr(readme, findings_words[i]) == NULL)
            fail_msg("README.md lacks: %s", findings_words[i]);
        if (strstr(page, findings_words[i]) == NULL)
            fail_msg("the sheet lacks: %s", findings_words[i]);
        assert_null(strstr(without, findings_words[i]));
    }
    free(readme);
    free(page);
    free(without);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_sentences_of_the_readme_stand_at_the_foot, run_files_setup,
                                        run_files_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
