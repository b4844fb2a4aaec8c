/* Reports: the numbers of runs and contrasts, as a page, as JSON and as CSV. */
#include "tests/bench/harness.h"
#include "tests/bench/page/rendered.h"

#include "bench/report/report_output.h"
#include "bench/report/report_page.h"
#include "bench/run/run_print.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <cjson/cJSON.h>
#include <math.h>

/* A run as it would be read from a file: one match of two arms over two strata. */
enum { BUILT_PAIRS = 400 };

typedef struct Built {
    StoredRun run;
    StoredPair pairs[BUILT_PAIRS];
    char names[BUILT_PAIRS][16];
    char *openings[BUILT_PAIRS];
} Built;

static const Questions nothing = {0, 0};

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
                built->pairs[match->count] =
                    (StoredPair){.pair = (int)match->count, .stratum = stratum, .points_a = points};
                match->count++;
            }
    for (int i = 0; i < BUILT_PAIRS; i++) {
        snprintf(built->names[i], sizeof built->names[i], "opening %d", i);
        built->openings[i] = built->names[i];
    }
    built->run.openings = built->openings;
    built->run.opening_count = BUILT_PAIRS;
    built->run.planned_pairs = match->count;
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
    assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
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
    assert_int_equal(group_effect(&match->summary.strata[0]), EFFECT_HELPED);
    assert_int_equal(group_effect(&match->summary.strata[1]), EFFECT_OPEN);
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
        assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
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
    assert_true(report_make(&report, copies, count, &nothing, NULL, NULL, 0));
    report_finding(&report, first, second);
    if (strstr(first, first_part) == NULL || strstr(second, second_part) == NULL)
        fail_msg("\"%s\" without \"%s\", or \"%s\" without \"%s\"", first, first_part, second, second_part);
    report_free(&report);
}

/* Neither sentence has these words. */
static void assert_no_words(Built *runs, int count, const char *words)
{
    static StoredRun copies[2];
    Report report;
    char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
    for (int i = 0; i < count; i++)
        copies[i] = runs[i].run;
    assert_true(report_make(&report, copies, count, &nothing, NULL, NULL, 0));
    report_finding(&report, first, second);
    if (strstr(first, words) != NULL || strstr(second, words) != NULL)
        fail_msg("\"%s\" or \"%s\" has \"%s\"", first, second, words);
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
    assert_finding(runs, 1, "chance alone explains that, and so would any true value within the interval",
                   "3 tests");
    build(&runs[0], 100, strict, harmed);
    assert_finding(runs, 1, "so what it does differently harmed.", "harmed in closed & firm (-");
    build(&runs[1], 100, loose, even);
    assert_finding(
        runs, 2, "strict",
        "the strict reading less the loose one, its usual misapplication, at the same weight makes -");
    /* Strict at one speed and loose at another are not to be compared. */
    for (int arm = 0; arm < 2; arm++)
        runs[1].run.arms[arm].nodes = 40000;
    assert_no_words(runs, 2, "the loose one");
    build(&runs[1], 50, loose, even);
    assert_no_words(runs, 2, "the loose one");
    static const int two_pairs[2][PAIR_OUTCOMES] = {{0, 0, 0, 0, 1}, {0, 0, 0, 0, 1}};
    build(&runs[0], 100, strict, two_pairs);
    assert_finding(runs, 1, "was worth above +800 Elo, with a 95 % interval from -",
                   "In none of the 2 kinds");
    assert_finding(runs, 1, "too few to tell anything", "");
    assert_no_words(runs, 1, "helped");
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
    assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
    assert_true(report_write_json(rendered_open(&r), &report));
    cJSON *object = cJSON_Parse(rendered_close(&r));
    assert_non_null(object);
    cJSON *match = cJSON_GetArrayItem(cJSON_GetObjectItem(object, "matches"), 0);
    cJSON *stratum = cJSON_GetArrayItem(cJSON_GetObjectItem(match, "strata"), 0);
    assert_string_equal(cJSON_GetStringValue(cJSON_GetObjectItem(stratum, "name")), "closed & firm");
    assert_true(fabs(cJSON_GetNumberValue(cJSON_GetObjectItem(stratum, "score")) - 0.7425) < 1e-9);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(stratum, "pairs_by_half_points")), PAIR_OUTCOMES);
    assert_int_equal(cJSON_GetArraySize(cJSON_GetObjectItem(object, "finding")), 2);
    cJSON_Delete(object);
    free(r.text);
    report_free(&report);
}

static cJSON *first_match(Rendered *r)
{
    cJSON *object = cJSON_Parse(rendered_close(r));
    cJSON *match = cJSON_DetachItemFromArray(cJSON_GetObjectItem(object, "matches"), 0);
    assert_non_null(match);
    cJSON_Delete(object);
    free(r->text);
    return match;
}

/* Who reads the JSON of one command reads that of the other, to the last digit. */
static void a_report_has_the_numbers_of_a_duel(void **state)
{
    (void)state;
    static Built built;
    Report report;
    Rendered r;
    const Questions asked = {20, 30};
    static const char *const parts[] = {"all", "strata", "heterogeneity"};
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, &asked, NULL, NULL, 0));
    assert_true(report_write_json(rendered_open(&r), &report));
    cJSON *reported = first_match(&r);
    assert_true(run_print(rendered_open(&r), &built.run, RUN_AS_JSON, &asked, NULL));
    cJSON *printed = first_match(&r);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        assert_non_null(cJSON_GetObjectItem(reported, parts[i]));
        assert_true(cJSON_Compare(cJSON_GetObjectItem(reported, parts[i]),
                                  cJSON_GetObjectItem(printed, parts[i]), true));
    }
    cJSON_Delete(reported);
    cJSON_Delete(printed);
    report_free(&report);
}

static void the_csv_has_a_line_for_each_stratum(void **state)
{
    (void)state;
    static Built built;
    Report report;
    Rendered r;
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
    report_write_csv(rendered_open(&r), &report);
    const char *text = rendered_close(&r);
    assert_int_equal(count_of(text, "\n"), 4);
    assert_non_null(strstr(text, "nodes a move\",closed & firm,100,2,5,20,40,33,0.742500,"));
    free(r.text);
    report_free(&report);
}

/* What neither helped nor harmed must be shown to be small, and is not by a P above 0.05. */
static void equivalence_is_a_finding_of_its_own(void **state)
{
    (void)state;
    static Built built;
    char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
    static const struct {
        double margin;
        const char *words;
    } cases[] = {{60, "the two are equivalent within 60 Elo either way"},
                 {5, "do not show the two to be equivalent within 5 Elo either way"}};
    build(&built, 100, strict, even);
    for (int i = 0; i < 2; i++) {
        Report report;
        assert_true(report_make(&report, &built.run, 1, &(Questions){0, cases[i].margin}, NULL, NULL, 0));
        report_finding(&report, first, second);
        assert_non_null(strstr(first, cases[i].words));
        report_free(&report);
    }
}

static char *page_of(StoredRun *runs, int count, const Questions *questions, const StratumWeights *weights)
{
    Report report;
    Rendered r;
    assert_true(report_make(&report, runs, count, questions, weights, NULL, 0));
    report_write_page(rendered_open(&r), &report, "T");
    rendered_close(&r);
    assert_well_formed(r.text);
    report_free(&report);
    return r.text;
}

/* Matches of other nodes and engines have a curve of their own, and none is dropped for
 * having fewer pairs. */
static void doses_are_grouped_by_all_but_the_dose(void **state)
{
    (void)state;
    static Built runs[4];
    StoredRun copies[4];
    static char other[] = "another engine";
    for (int i = 0; i < 4; i++)
        build(&runs[i], i < 2 ? 100 + 100 * i : 100, strict, even);
    runs[2].run.matches[0].count = 60; /* the dose of the first once more */
    for (int arm = 0; arm < 2; arm++)
        runs[3].run.arms[arm].engine = other;
    for (int i = 0; i < 4; i++)
        copies[i] = runs[i].run;
    Report report;
    assert_true(report_make(&report, copies, 4, &nothing, NULL, NULL, 0));
    static const int expected[] = {0, 0, 0, 1};
    for (int i = 0; i < 4; i++)
        assert_int_equal(report.matches[i].conditions, expected[i]);
    assert_int_equal(report.conditions_count, 2);
    report_free(&report);
    char *page = page_of(copies, 4, &nothing, NULL);
    assert_int_equal(count_of(page, "Dose and response: "), 1);
    /* No dose, weight 100 twice, weight 200. */
    assert_non_null(strstr(page, "strict reading: at 0 +0.0; at 100 "));
    const char *table = strstr(page, "Every dose against weight 0");
    assert_non_null(table);
    const char *end = strstr(table, "</table>");
    size_t rows = 0;
    for (const char *at = table; at < end; at = strstr(at + 1, "<tr"))
        rows++;
    assert_int_equal(rows, 1 + 3 + 1);
    free(page);
}

/* A run whose pairs are another's cannot confirm it. */
static void shared_pairs_are_told(void **state)
{
    (void)state;
    static Built runs[2];
    StoredRun copies[2];
    Report report;
    char text[REPORT_SENTENCE_SIZE];
    build(&runs[0], 100, strict, even);
    build(&runs[1], 100, strict, even);
    runs[1].run.matches[0].count = 50;
    copies[0] = runs[0].run, copies[1] = runs[1].run;
    assert_true(report_make(&report, copies, 2, &nothing, NULL, NULL, 0));
    assert_int_equal(report.sharing_count, 1);
    assert_int_equal(report.sharing[0].openings, 50);
    assert_int_equal(report.sharing[0].same_games, 50);
    report_sharing_text(&report.sharing[0], text);
    assert_non_null(strstr(text, "Runs 1 and 2 share 50 openings, and 50 pairs are the very same games"));
    report_free(&report);
    /* With another weight the openings are shared, and the games are not. */
    runs[1].run.arms[0].weight = 200;
    copies[1] = runs[1].run;
    assert_true(report_make(&report, copies, 2, &nothing, NULL, NULL, 0));
    assert_int_equal(report.sharing[0].openings, 50);
    assert_int_equal(report.sharing[0].same_games, 0);
    report_free(&report);
    for (int i = 0; i < BUILT_PAIRS; i++)
        snprintf(runs[1].names[i], sizeof runs[1].names[i], "fresh %d", i);
    assert_true(report_make(&report, copies, 2, &nothing, NULL, NULL, 0));
    assert_int_equal(report.sharing_count, 0);
    report_free(&report);
}

static void a_stopped_run_says_its_verdict_first(void **state)
{
    (void)state;
    static Built built;
    static char names[4][32] = {"until null, Elo", "until alternative, Elo", "until alpha", "until beta"};
    static char values[4][8] = {"0", "", "0.05", "0.05"};
    static const char *const alternatives[] = {"40", "4"};
    static const int(*const worlds[])[PAIR_OUTCOMES] = {helped, even};
    static const char *const verdicts[] = {
        "The sequential test of +40 against +0 Elo took +40. Without what stopping",
        "The sequential test of +4 against +0 Elo is undecided."};
    for (int i = 0; i < 2; i++) {
        Report report;
        char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
        build(&built, 100, strict, worlds[i]);
        snprintf(values[1], sizeof values[1], "%s", alternatives[i]);
        for (int k = 0; k < 4; k++)
            built.run.settings[k] = (StoredSetting){names[k], values[k]};
        built.run.setting_count = 4;
        assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
        report_finding(&report, first, second);
        if (strncmp(first, verdicts[i], strlen(verdicts[i])) != 0)
            fail_msg("\"%s\" does not begin with \"%s\"", first, verdicts[i]);
        assert_non_null(strstr(second, "says nothing by structure"));
        report_free(&report);
        free(page_of(&built.run, 1, &nothing, NULL));
    }
}

/* By hand: 0.7425 and 0.5 with shares of 1 and 3 make 0.560625; and the standard error is that of the sum. */
static void the_weights_are_those_of_games(void **state)
{
    (void)state;
    static Built built;
    static char closed[] = "closed & firm", open[] = "open", unseen[] = "unseen";
    StratumWeights weights = {3, {closed, open, unseen}, {0.2, 0.6, 0.2}};
    Report report;
    build(&built, 100, strict, helped);
    assert_true(report_make(&report, &built.run, 1, &nothing, &weights, NULL, 0));
    const WeightedEstimate *w = &report.matches[0].weighted;
    const GroupSummary *strata = report.matches[0].summary.strata;
    assert_true(fabs(w->covered - 0.8) < 1e-12);
    assert_true(fabs(w->score - 0.560625) < 1e-12);
    double error = hypot(0.25 * strata[0].estimate.standard_error, 0.75 * strata[1].estimate.standard_error);
    double low = w->score - 1.98 * error; /* t of 120 degrees; there are a little fewer */
    assert_true(fabs(score_from_elo(w->elo_interval.low) - low) < 0.01 * error);
    report_free(&report);
    char *page = page_of(&built.run, 1, &nothing, &weights);
    assert_non_null(
        strstr(page, "Weighted by how often the kinds of openings occur (they make 80 % of the weights)"));
    free(page);
    page = page_of(&built.run, 1, &nothing, NULL);
    assert_non_null(strstr(page, "not over the games that people play"));
    free(page);
}

/* "More than chance" is said of P, and never of I squared alone. */
static void words_follow_the_tests(void **state)
{
    (void)state;
    static Built built;
    build(&built, 100, strict, helped);
    char *page = page_of(&built.run, 1, &(Questions){5, 0}, NULL);
    assert_non_null(strstr(page, "more than chance explains. I² = "));
    assert_null(strstr(page, "likelihood"));
    assert_non_null(strstr(page, "To tell an effect of 5 Elo from none"));
    free(page);
    build(&built, 100, strict, even);
    page = page_of(&built.run, 1, &nothing, NULL);
    assert_non_null(strstr(page, "chance alone explains the differences. I² = 0"));
    assert_null(strstr(page, "To tell an effect"));
    for (int i = 0; i < BUILT_PAIRS; i++)
        built.pairs[i].same_games = built.pairs[i].stratum == 0;
    free(page);
    page = page_of(&built.run, 1, &nothing, NULL);
    assert_non_null(strstr(page, "the arms played the same games"));
    free(page);
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
    assert_true(report_make(&report, copies, 2, &nothing, NULL, NULL, 0));
    report_write_page(rendered_open(&r), &report, "What <it> is worth");
    const char *text = rendered_close(&r);
    assert_well_formed(text);
    assert_int_equal(count_of(text, "class=\"chart\""), 4);
    assert_non_null(strstr(text, "closed &amp; firm"));
    assert_non_null(strstr(text, "What misapplying the rule costs"));
    assert_non_null(strstr(text, "Not for use during a game"));
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf"));
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
    assert_true(report_make(&report, &built.run, 1, &nothing, NULL, NULL, 0));
    report_write_page(rendered_open(&r), &report, "T");
    const char *svg = strstr(rendered_close(&r), "<svg class=\"chart\"");
    assert_non_null(svg);
    for (const char *path = strstr(svg, " d=\""); path != NULL; path = strstr(path + 1, " d=\""))
        assert_null(memmem(path, strcspn(path + 4, "\"") + 4, "nan", 3));
    /* As duel prints it. */
    assert_non_null(strstr(r.text, "to above +800</td>"));
    assert_null(strstr(r.text, "800.0"));
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

/* A number that no int holds is not what it becomes when it is cut. */
static void gains_beyond_reason(void **state)
{
    (void)state;
    ReadContrast contrast;
    const char *path = write_contrast(CHANGE("far", -2147483648, -1e300, -0.3)
                                          AGAIN("far", -2147483648, -1e300, -0.3) SUMMARY);
    assert_true(contrast_read_file(&contrast, path));
    const Report report = {.contrast_count = 1, .contrasts = &contrast};
    Rendered r;
    report_write_page(rendered_open(&r), &report, "T");
    assert_non_null(strstr(rendered_close(&r),
                           "by 10000.00 pawns the one without the term, by 10000.00 the one with it"));
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
#define COUNTED(positions, changed)                                                                          \
    "{\"verdict\":\"none\",\"positions\":" #positions ",\"changed\":" #changed "}\n"
    static const char *const counts[] = {COUNTED(4, 5e92), COUNTED(-4, 3), COUNTED(4, 2.5), COUNTED(null, 3)};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++)
        assert_report_refused(
            counts[i], ":1: the line has no \"positions\" or \"changed\" that can be counted; expected");
    assert_report_refused(SUMMARY, "there is no run among the files");
    assert_refused("report /nowhere/run.db --csv", "", 1, "/nowhere/run.db: cannot be read");
    assert_refused("report", "", 2, "there is no file");
    assert_refused("report x --csv --json", "", 2, "expected one of them");
    assert_refused("report /nowhere/run.db", "", 1, "/nowhere/run.db: cannot be read");
    assert_refused("report x --margin 0", "", 2, "--margin is \"0\"; expected a number from 0.1 to 800");
}

/* A run of one stratum, "drawn". */
static void weights_are_read(const char *folder)
{
    static const struct {
        const char *text, *error;
    } cases[] = {{"# shares\ndrawn 3\nother 5\n", NULL},
                 {"{\"games\":2,\"strata\":{\"drawn\":2,\"other\":1}}\n", NULL},
                 {"drawn\n", "shares:1: the line is \"drawn\"; expected the name of a stratum and a number"},
                 {"drawn 1\ndrawn 2\n", "shares:2: the stratum drawn is there twice"},
                 {"drawn -1\n", "shares:1: the weight of drawn is no number of 0 or more"},
                 {"drawn 0\n", "no stratum has a weight"},
                 {"likely 2\n", "weights no stratum of the run; expected some of its strata, such as drawn"},
                 {"{\"games\":2}\n", "has no \"strata\""},
                 {"", "cannot be read: it is empty"}};
    char arguments[256], path[128];
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        snprintf(path, sizeof path, "%s/shares", folder);
        FILE *file = fopen(path, "w");
        assert_non_null(file);
        fputs(cases[i].text, file);
        fclose(file);
        snprintf(arguments, sizeof arguments, "report %s/run.db --weights %s", folder, path);
        if (cases[i].error != NULL) {
            assert_refused(arguments, "", 1, cases[i].error);
            continue;
        }
        HarnessRun run = harness_run(arguments, "");
        assert_int_equal(run.status, 0);
        assert_non_null(strstr(run.out, "Weighted by how often the strata occur (100% of the weights): "));
        harness_free(&run);
    }
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
    /* Without an output it prints the tables, as duel has. */
    snprintf(arguments, sizeof arguments, "report %s/run.db", folder);
    run = harness_run(arguments, "");
    assert_int_equal(run.status, 0);
    assert_non_null(strstr(run.out, "\nall                   4 "));
    assert_ptr_equal(strstr(run.out, "Over 4 pairs of games, "), run.out);
    harness_free(&run);
    weights_are_read(folder);
    snprintf(arguments, sizeof arguments, "rm -r %s", folder);
    assert_int_equal(system(arguments), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_numbers_are_those_of_the_pairs),
        cmocka_unit_test(the_estimate_is_followed_to_its_end),
        cmocka_unit_test(the_finding_says_what_was_found),
        cmocka_unit_test(equivalence_is_a_finding_of_its_own),
        cmocka_unit_test(doses_are_grouped_by_all_but_the_dose),
        cmocka_unit_test(shared_pairs_are_told),
        cmocka_unit_test(a_stopped_run_says_its_verdict_first),
        cmocka_unit_test(words_follow_the_tests),
        cmocka_unit_test(the_weights_are_those_of_games),
        cmocka_unit_test(the_json_can_be_read_back),
        cmocka_unit_test(a_report_has_the_numbers_of_a_duel),
        cmocka_unit_test(the_csv_has_a_line_for_each_stratum),
        cmocka_unit_test(the_page_is_well_formed),
        cmocka_unit_test(certainty_can_be_drawn),
        cmocka_unit_test(a_contrast_is_read_back),
        cmocka_unit_test(gains_beyond_reason),
        cmocka_unit_test(only_ten_positions_are_shown),
        cmocka_unit_test(bad_files_are_refused),
        cmocka_unit_test(a_run_that_was_played_is_reported),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
