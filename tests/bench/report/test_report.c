/* Reports: the numbers of runs and contrasts, as a page, as JSON and as CSV. */
#include "tests/bench/harness.h"
#include "tests/bench/page/rendered.h"

#include "bench/report/report_output.h"
#include "bench/report/report_page.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <cjson/cJSON.h>
#include <math.h>

/* A run as it would be read from a file: one match of two arms over two strata. */
typedef struct Built {
    StoredRun run;
    StoredPair pairs[400];
} Built;

static char strict[] = "strict", loose[] = "loose";

static void build(Built *built, int weight, char *rule, const int (*counts)[PAIR_OUTCOMES])
{
    static char closed[] = "closed & firm", open[] = "open";
    *built = (Built){.run = {.arm_count = 2, .match_count = 1, .stratum_count = 2, .strata = {closed, open}}};
    static char none[] = "", engine[] = "built in";
    for (int arm = 0; arm < 2; arm++)
        built->run.arms[arm] = (StoredArm){arm == 0 ? weight : 0, rule, 1000, none, engine};
    StoredMatch *match = &built->run.matches[0];
    *match = (StoredMatch){.arm_a = 0, .arm_b = 1, .pairs = built->pairs};
    for (int stratum = 0; stratum < 2; stratum++)
        for (int points = 0; points < PAIR_OUTCOMES; points++)
            for (int i = 0; i < counts[stratum][points]; i++) {
                built->pairs[match->count] = (StoredPair){(int)match->count, stratum, points};
                match->count++;
            }
}

/* Clearly better in the first stratum, even in the second. */
static const int helped[2][PAIR_OUTCOMES] = {{2, 5, 20, 40, 33}, {10, 20, 40, 20, 10}};
static const int even[2][PAIR_OUTCOMES] = {{10, 20, 40, 20, 10}, {10, 20, 40, 20, 10}};
static const int harmed[2][PAIR_OUTCOMES] = {{33, 40, 20, 5, 2}, {33, 40, 20, 5, 2}};

static void the_numbers_are_those_of_the_pairs(void **state)
{
    (void)state;
    static Built built;
    Report report;
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, NULL, 0));
    assert_int_equal(report.match_count, 1);
    const ReportMatch *match = &report.matches[0];
    assert_string_equal(match->name, "weight 100, strict, against weight 0; 1000 nodes a move");
    assert_true(match->is_dose);
    assert_ptr_equal(report.main[PS_STRICT], match);
    assert_null(report.main[PS_LOOSE]);
    assert_int_equal(match->summary.all.estimate.pairs, 200);
    /* (5 + 2 * 20 + 3 * 40 + 4 * 33) / 4 pairs' points = 297 / 400 in the first, 1/2 in the second stratum.
     */
    assert_true(fabs(match->summary.strata[0].estimate.score - 297.0 / 400) < 1e-12);
    assert_true(fabs(match->summary.strata[1].estimate.score - 0.5) < 1e-12);
    assert_int_equal(report_effect(&match->summary.strata[0]), EFFECT_HELPED);
    assert_int_equal(report_effect(&match->summary.strata[1]), EFFECT_OPEN);
    report_free(&report);
}

static void the_estimate_is_followed_to_its_end(void **state)
{
    (void)state;
    static Built built;
    Report report;
    build(&built, 100, strict, helped);
    for (size_t count = 1; count <= 200; count += 33) {
        built.run.matches[0].count = count;
        assert_true(report_make(&report, &built.run, 1, NULL, 0));
        const ReportMatch *match = &report.matches[0];
        assert_in_range(match->step_count, 1, REPORT_STEPS);
        for (int i = 1; i < match->step_count; i++)
            assert_true(match->steps[i - 1].pairs < match->steps[i].pairs);
        assert_int_equal(match->steps[match->step_count - 1].pairs, count);
        assert_int_equal(match->steps[match->step_count - 1].estimate.pairs, count);
        report_free(&report);
    }
}

static void assert_finding(Built *runs, int count, const char *first_part, const char *second_part)
{
    static StoredRun copies[2];
    Report report;
    char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
    for (int i = 0; i < count; i++)
        copies[i] = runs[i].run;
    assert_true(report_make(&report, copies, count, NULL, 0));
    report_finding(&report, first, second);
    if (strstr(first, first_part) == NULL || strstr(second, second_part) == NULL)
        fail_msg("\"%s\" without \"%s\", or \"%s\" without \"%s\"", first, first_part, second, second_part);
    report_free(&report);
}

static void the_finding_says_what_was_found(void **state)
{
    (void)state;
    static Built runs[2];
    build(&runs[0], 100, strict, helped);
    assert_finding(runs, 1, "so what it does differently helped.", "it helped in closed & firm (+");
    build(&runs[0], 100, strict, even);
    assert_finding(runs, 1, "was worth +0.0 Elo", "In none of the 2 kinds of structure");
    build(&runs[0], 100, strict, harmed);
    assert_finding(runs, 1, "so what it does differently harmed.", "harmed in closed & firm (-");
    build(&runs[1], 100, loose, even);
    assert_finding(runs, 2, "strict", "as it is usually misapplied (loose), the rule is worth +0.0 Elo");
    runs[0].run.matches[0].count = 0;
    assert_finding(runs, 1, "No pair of games has been finished.", "");
}

static void the_json_can_be_read_back(void **state)
{
    (void)state;
    static Built built;
    Report report;
    Rendered r;
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, NULL, 0));
    assert_true(report_write_json(rendered_open(&r), &report));
    cJSON *object = cJSON_Parse(rendered_close(&r));
    assert_non_null(object);
    cJSON *match = cJSON_GetArrayItem(cJSON_GetObjectItem(object, "matches"), 0);
    cJSON *stratum = cJSON_GetObjectItem(cJSON_GetObjectItem(match, "strata"), "closed & firm");
    assert_non_null(stratum);
    assert_true(fabs(cJSON_GetNumberValue(cJSON_GetObjectItem(stratum, "score")) - 0.7425) < 1e-9);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(stratum, "outcomes")), PAIR_OUTCOMES);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(object, "finding")), 2);
    cJSON_Delete(object);
    free(r.text);
    report_free(&report);
}

static void the_csv_has_a_line_for_each_stratum(void **state)
{
    (void)state;
    static Built built;
    Report report;
    Rendered r;
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, NULL, 0));
    report_write_csv(rendered_open(&r), &report);
    const char *text = rendered_close(&r);
    assert_int_equal(count_of(text, "\n"), 4);
    assert_non_null(strstr(text, "nodes a move\",closed & firm,100,2,5,20,40,33,0.74250,"));
    free(r.text);
    report_free(&report);
}

static void the_page_is_well_formed(void **state)
{
    (void)state;
    static Built runs[2];
    static StoredRun copies[2];
    Report report;
    Rendered r;
    build(&runs[0], 100, strict, helped);
    build(&runs[1], 100, loose, harmed);
    copies[0] = runs[0].run, copies[1] = runs[1].run;
    assert_true(report_make(&report, copies, 2, NULL, 0));
    report_write_page(rendered_open(&r), &report, "What <it> is worth");
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "class=\"chart\""), 4);
    assert_non_null(strstr(text, "closed &amp; firm"));
    assert_non_null(strstr(text, "What misapplying the rule costs"));
    assert_non_null(strstr(text, "Not for use during a game"));
    assert_null(strstr(text, "nan"));
    free(r.text);
    report_free(&report);
}

/* One side that wins everything has an infinite Elo difference. */
static void certainty_can_be_drawn(void **state)
{
    (void)state;
    static const int all_won[2][PAIR_OUTCOMES] = {{0, 0, 0, 0, 30}, {0, 0, 0, 0, 1}};
    static Built built;
    Report report;
    Rendered r;
    build(&built, 100, strict, all_won);
    assert_true(report_make(&report, &built.run, 1, NULL, 0));
    report_write_page(rendered_open(&r), &report, "T");
    const char *svg = strstr(rendered_close(&r), "<svg class=\"chart\"");
    assert_non_null(svg);
    for (const char *path = strstr(svg, " d=\""); path != NULL; path = strstr(path + 1, " d=\""))
        assert_null(memmem(path, strcspn(path + 4, "\"") + 4, "nan", 3));
    free(r.text);
    report_free(&report);
}

/* ------------------------------------------------------------------------------------------- contrasts */

static const char *write_contrast(const char *text)
{
    static char path[] = "/tmp/pawnvane-contrast-XXXXXX";
    strcpy(path + strlen(path) - 6, "XXXXXX");
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, text, strlen(text)), (ssize_t)strlen(text));
    close(descriptor);
    return path;
}

#define GAIN(off_gain, on_gain, win)                                                                         \
    "\"gain\":{\"judge_off\":" #off_gain ",\"judge_on\":" #on_gain ",\"win\":" #win "}}\n"
#define CHANGE(id, off_gain, on_gain, win)                                                                   \
    "{\"id\":\"" id "\",\"fen\":\"4k3/8/8/8/8/8/4P3/4K3 w - -\",\"verdict\":\"none\",\"grade\":null,"        \
    "\"off\":{\"move\":\"e3\",\"solved\":null},\"on\":{\"move\":\"e4\",\"solved\":true},\"changed\":"        \
    "true," GAIN(off_gain, on_gain, win)
#define AGAIN(id, off_gain, on_gain, win)                                                                    \
    "{\"judged_again\":\"" id "\",\"of\":\"4k3/8/8/8/8/8/4P3/4K3 w - -\"," GAIN(off_gain, on_gain, win)
#define SUMMARY                                                                                              \
    "{\"verdict\":\"none\",\"positions\":4,\"changed\":3,\"gain_mean\":5.00,\"win_mean\":0.02}\n"            \
    "{\"all\":\"all positions\",\"positions\":4,\"changed\":3,\"gain_mean\":null}\n"

static void a_contrast_is_read_back(void **state)
{
    (void)state;
    ReadContrast contrast;
    const char *path = write_contrast(CHANGE("small", 10, 20, 0.03) CHANGE("torn", 100, -100, 0.01)
                                          CHANGE("great", -180, -190, -0.3) CHANGE("luck", 300, 280, 0.4)
                                              CHANGE("lone", 500, 500, 0.5) AGAIN("great", -80, -90, -0.15)
                                                  AGAIN("torn", 90, 80, 0.2) AGAIN("luck", -20, -25, -0.05)
                                                      AGAIN("small", 30, 10, 0.02) SUMMARY);
    assert_true(contrast_read_file(&contrast, path));
    assert_int_equal(contrast.change_count, 5);
    assert_int_equal(contrast.by_verdict_count, 1);
    assert_true(isnan(contrast.all.gain));
    assert_true(contrast.by_verdict[0].gain == 5 && contrast.by_verdict[0].win == 0.02);
    char san[MOVE_TEXT_SIZE];
    san_write(&contrast.changes[0].position, contrast.changes[0].moves[READ_ON], san);
    assert_string_equal(san, "e4");
    assert_int_equal(contrast.changes[0].solved[READ_OFF], -1);

    /* The judges disagreed about "torn" at first; about "luck" they have changed their minds; "lone" has not
     * been judged again, whatever its gain. */
    const Report report = {.contrast_count = 1, .contrasts = &contrast};
    const ReadChange *changes[INSTRUCTIVE_MAX];
    assert_int_equal(report_instructive(&report, changes), 2);
    assert_string_equal(changes[0]->name, "great");
    assert_string_equal(changes[1]->name, "small");
    assert_int_equal(changes[0]->judge_gain[READ_OFF], -80);
    assert_true(changes[0]->win == -0.15 && changes[0]->gain == -85);

    Rendered r;
    report_write_page(rendered_open(&r), &report, "T");
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_non_null(strstr(text, "The judges find e3 clearly better than e4"));
    assert_non_null(strstr(text, "by 0.80 pawns the one without the term, by 0.90 the one with it"));
    assert_non_null(strstr(text, "So the term harmed here."));
    assert_non_null(strstr(text, "judged again with four times the nodes"));
    free(r.text);
    read_contrast_free(&contrast);
    unlink(path);
}

static void only_ten_positions_are_shown(void **state)
{
    (void)state;
    static ReadChange many[30];
    for (int i = 0; i < 30; i++)
        many[i] = (ReadChange){.win = (i * 7 % 30 + 1) * (i % 2 ? 0.01 : -0.01), .confirmed = true};
    const ReadContrast contrast = {.change_count = 30, .changes = many};
    const Report report = {.contrast_count = 1, .contrasts = &contrast};
    const ReadChange *changes[INSTRUCTIVE_MAX];
    assert_int_equal(report_instructive(&report, changes), INSTRUCTIVE_MAX);
    for (int i = 0; i < INSTRUCTIVE_MAX; i++)
        assert_true(lround(fabs(changes[i]->win) * 100) == 30 - i);
}

/* ------------------------------------------------------------------------------------------- the command */

static void assert_report_refused(const char *text, const char *part)
{
    char arguments[128];
    const char *path = write_contrast(text);
    snprintf(arguments, sizeof arguments, "report %s --csv", path);
    assert_refused(arguments, "", 1, part);
    unlink(path);
}

static void bad_files_are_refused(void **state)
{
    (void)state;
    assert_report_refused("nonsense\n", ":1: the line is no JSON object");
    assert_report_refused(CHANGE("x", 1, 2, 0.1), "there is no summary at the end");
    assert_report_refused("{\"fen\":\"x\"}\n", ":1: the line has no \"id\"");
    assert_report_refused(AGAIN("x", 1, 2, 0.1),
                          ":1: the line judges a position again that has not been judged");
    assert_report_refused(CHANGE("y", 1, 2, 0.1) AGAIN("x", 1, 2, 0.1),
                          ":2: the line judges a position again");
    assert_report_refused(AGAIN("x", 1, 2, null), ":1: the line has no \"of\" or \"gain\"");
    assert_report_refused(SUMMARY CHANGE("x", 1, 2, 0.1), ":3: the line comes after the summary");
    assert_report_refused(SUMMARY, "there is no run among the files");
    assert_refused("report /nowhere/run.db --csv", "", 1, "/nowhere/run.db: cannot be read");
    assert_refused("report", "", 2, "there is no file");
    assert_refused("report x --csv --json", "", 2, "expected one of them");
    assert_refused("report x", "", 2, "nothing is to be written");
}

static void a_run_that_was_played_is_reported(void **state)
{
    (void)state;
    char folder[] = "/tmp/pawnvane-report-XXXXXX", arguments[256];
    assert_non_null(mkdtemp(folder));
    snprintf(arguments, sizeof arguments,
             "duel --store %s/run.db --weight 100:0 --nodes 100 --pairs 4 --quiet", folder);
    HarnessRun run = harness_run(arguments, "");
    assert_int_equal(run.status, 0);
    harness_free(&run);
    snprintf(arguments, sizeof arguments, "report %s/run.db --html %s/run.html --json", folder, folder);
    run = harness_run(arguments, "");
    assert_int_equal(run.status, 0);
    assert_string_equal(run.err, "");
    cJSON *object = cJSON_Parse(run.out);
    cJSON *all = cJSON_GetObjectItem(cJSON_GetArrayItem(cJSON_GetObjectItem(object, "matches"), 0), "all");
    assert_int_equal((int)cJSON_GetNumberValue(cJSON_GetObjectItem(all, "pairs")), 4);
    cJSON_Delete(object);
    harness_free(&run);
    snprintf(arguments, sizeof arguments, "rm -r %s", folder);
    assert_int_equal(system(arguments), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_numbers_are_those_of_the_pairs),
        cmocka_unit_test(the_estimate_is_followed_to_its_end),
        cmocka_unit_test(the_finding_says_what_was_found),
        cmocka_unit_test(the_json_can_be_read_back),
        cmocka_unit_test(the_csv_has_a_line_for_each_stratum),
        cmocka_unit_test(the_page_is_well_formed),
        cmocka_unit_test(certainty_can_be_drawn),
        cmocka_unit_test(a_contrast_is_read_back),
        cmocka_unit_test(only_ten_positions_are_shown),
        cmocka_unit_test(bad_files_are_refused),
        cmocka_unit_test(a_run_that_was_played_is_reported),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
