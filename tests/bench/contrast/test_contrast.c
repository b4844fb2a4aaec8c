/* The contrast of searches with the lever term and without it. */
#include "bench/contrast/contrast.h"
#include "bench/contrast/contrast_summary.h"
#include "tests/bench/harness.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Number 3 of the Bratko-Kopec test (D. Kopec, I. Bratko, Advances in Computer Chess 3, 1982): the side to
 * move has a firm locked pair whose base lever f5 is the published move. */
static const char number_3[] =
    "2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - bm f5; id \"three\";";
/* Number 1: a mate in three that any search of some depth finds. */
static const char number_1[] = "1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id \"one\";";

static ContrastTask read_task(const char *line)
{
    EpdRecord record;
    ContrastTask task;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_parse(line, &record, error));
    assert_true(contrast_read_task(&record, &task, error));
    epd_free(&record);
    return task;
}

static ContrastResult run_task(const char *line, int weight, uint64_t nodes)
{
    ContrastTask task = read_task(line);
    ContrastPlan plan = {.limits = {.nodes = nodes}, .weight = weight, .rule = PS_STRICT};
    ContrastResult result;
    Player *player = player_new(4);
    assert_non_null(player);
    assert_true(contrast_run(player, &plan, &task, &result));
    player_free(player);
    return result;
}

static void classes_are_those_of_the_side_to_move(void **state)
{
    (void)state;
    ContrastResult three = run_task(number_3, 100, 2000), one = run_task(number_1, 100, 2000);
    assert_int_equal(three.verdict, PS_APPLIES);
    assert_true(three.has_grade);
    assert_int_equal(three.grade, PS_FIRM);
    assert_int_equal(one.verdict, PS_NONE);
    assert_false(one.has_grade);
}

static void both_arms_solve_the_mate(void **state)
{
    (void)state;
    ContrastResult one = run_task(number_1, 100, 20000);
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        assert_true(one.choice[arm].solved);
        assert_int_equal(one.choice[arm].score, SCORE_MATE - 5);
        assert_true(one.choice[arm].nodes <= 20000);
        assert_true(one.choice[arm].nodes_to_choice <= one.choice[arm].nodes);
    }
    assert_false(one.changed);
    assert_int_equal(one.gain[TERM_OFF], 0);
}

/* With weight 0 the two arms are the same engine, so whatever differs would leak from one search to the next.
 */
static void arms_of_equal_weight_agree_in_everything(void **state)
{
    (void)state;
    ContrastResult r = run_task(number_3, 0, 30000);
    assert_false(r.changed);
    assert_int_equal(r.choice[TERM_OFF].score, r.choice[TERM_ON].score);
    assert_int_equal(r.choice[TERM_OFF].depth, r.choice[TERM_ON].depth);
    assert_int_equal(r.choice[TERM_OFF].nodes_to_choice, r.choice[TERM_ON].nodes_to_choice);
}

static void the_term_makes_a_difference_where_it_applies(void **state)
{
    (void)state;
    ContrastResult r = run_task(number_3, 1000, 5000);
    assert_true(r.choice[TERM_ON].score != r.choice[TERM_OFF].score);
}

static void moves_to_avoid_count(void **state)
{
    (void)state;
    ContrastResult r =
        run_task("1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - am Qd1+; id \"avoid\";", 100, 20000);
    assert_false(r.choice[TERM_OFF].solved);
}

static void positions_without_a_choice_are_refused(void **state)
{
    (void)state;
    EpdRecord record;
    ContrastTask task;
    char error[EPD_ERROR_SIZE];
    /* Stalemate, FIDE Laws of Chess, article 5.2.1. */
    assert_true(epd_parse("7k/5Q2/6K1/8/8/8/8/8 b - -", &record, error));
    assert_false(contrast_read_task(&record, &task, error));
    assert_non_null(strstr(error, "no legal move"));
    epd_free(&record);
}

static void names_are_whole_characters(void **state)
{
    (void)state;
    char line[256] = "4k3/8/8/8/8/8/4P3/4K3 w - - id \"x";
    for (int i = 0; i < CONTRAST_ID_SIZE; i++)
        strcat(line, "\xC3\xA9");
    /* 64 bytes less the end of string: x and 31 letters of two bytes. Without the x half a letter would be
     * left. */
    ContrastTask task = read_task(strcat(line, "\";"));
    assert_int_equal(strlen(task.id), 63);
    memmove(strchr(line, 'x'), strchr(line, 'x') + 1, strlen(strchr(line, 'x')));
    task = read_task(line);
    assert_int_equal(strlen(task.id), 62);
    assert_string_equal(task.id + 60, "\xC3\xA9");

    /* Without a name a position is called by its place. */
    EpdRecord record;
    char error[EPD_ERROR_SIZE];
    assert_true(epd_parse("4k3/8/8/8/8/8/4P3/4K3 w - -", &record, error));
    record.file = "suite.epd";
    record.line = 7;
    assert_true(contrast_read_task(&record, &task, error));
    assert_string_equal(task.id, "suite.epd:7");
    epd_free(&record);
}

/* Ten invented results: eight "applies firm" of which the term solves six alone and loses one, two without a
 * pair. */
static void summary_counts_and_tests(void **state)
{
    (void)state;
    enum { N = 10 };
    ContrastTask tasks[N];
    ContrastResult results[N];
    ContrastClass classes[CLASS_COUNT];
    memset(results, 0, sizeof results);
    for (int i = 0; i < N; i++) {
        tasks[i] = read_task(number_1);
        results[i].verdict = i < 8 ? PS_APPLIES : PS_NONE;
        results[i].has_grade = i < 8;
        results[i].grade = PS_FIRM;
        results[i].choice[TERM_ON].solved = i < 6;
        results[i].choice[TERM_OFF].solved = i == 6;
        results[i].choice[TERM_ON].nodes_to_choice = 100;
        results[i].choice[TERM_OFF].nodes_to_choice = 300 + (uint64_t)i;
        results[i].changed = i < 4;
        results[i].gain[TERM_OFF] = i < 4 ? 10 * i : 0;
        results[i].gain[TERM_ON] = i < 4 ? 10 * i + 4 : 0;
    }
    assert_true(contrast_summarise(tasks, results, N, classes));
    const ContrastClass *applies = &classes[CLASS_VERDICT + PS_APPLIES], *all = &classes[CLASS_ALL];
    assert_string_equal(applies->name, "applies");
    assert_int_equal(applies->positions, 8);
    assert_int_equal(applies->solved[TERM_ON], 6);
    assert_int_equal(applies->only[TERM_ON], 6);
    assert_int_equal(applies->only[TERM_OFF], 1);
    /* Binomial: 2 * (C(7,0) + C(7,1)) / 2^7. */
    assert_true(fabs(applies->mcnemar - 16.0 / 128) < 1e-12);
    assert_int_equal(applies->changed, 4);
    assert_true(fabs(applies->gain[TERM_OFF] - 15) < 1e-12);
    assert_true(fabs(applies->mean_gain - 17) < 1e-12);
    /* Four gains are too few for an interval. */
    assert_true(isnan(applies->gain_interval.low) && isnan(applies->gain_interval.high));
    assert_int_equal(classes[CLASS_NO_PAIR].positions, 2);
    assert_int_equal(classes[CLASS_GRADE].positions, 8); /* firm comes first */
    assert_int_equal(all->positions, N);
    assert_true(fabs(all->nodes_to_choice[TERM_OFF] - 304.5) < 1e-9);
    assert_int_equal(classes[CLASS_VERDICT + PS_WEAK].positions, 0);
    assert_true(isnan(classes[CLASS_VERDICT + PS_WEAK].mean_gain));

    char sentence[400];
    contrast_sentence(applies, sentence, sizeof sentence);
    assert_non_null(strstr(sentence, "too few to tell"));
}

/* What a sentence claims follows the interval. */
static void sentences_follow_the_interval(void **state)
{
    (void)state;
    static const struct {
        double low, high;
        const char *words;
    } cases[] = {{1, 9, "it helped"}, {-9, -1, "it harmed"}, {-1, 9, "cannot tell"}};
    for (int i = 0; i < 3; i++) {
        ContrastClass class = {.kind = "verdict",
                               .name = "applies",
                               .positions = 60,
                               .changed = 30,
                               .mean_gain = (cases[i].low + cases[i].high) / 2,
                               .gain_interval = {cases[i].low, cases[i].high}};
        char sentence[400];
        contrast_sentence(&class, sentence, sizeof sentence);
        assert_non_null(strstr(sentence, cases[i].words));
    }
}

static void output_does_not_depend_on_workers(void **state)
{
    (void)state;
    char input[1024];
    static const char *const forms[] = {"--json", "--csv"};
    snprintf(input, sizeof input, "%s\n%s\n", number_3, number_1);
    for (int i = 0; i < 2; i++) {
        char arguments[64];
        snprintf(arguments, sizeof arguments, "contrast - --nodes 3000 --table 1 %s --workers 1", forms[i]);
        HarnessRun alone = harness_run(arguments, input);
        arguments[strlen(arguments) - 1] = '3';
        HarnessRun together = harness_run(arguments, input);
        assert_int_equal(alone.status, 0);
        assert_string_equal(alone.out, together.out);
        assert_null(strstr(alone.out, "milliseconds"));
        assert_string_equal(alone.err, "");
        harness_free(&alone);
        harness_free(&together);
    }
}

static void json_lines_hold_positions_then_classes(void **state)
{
    (void)state;
    HarnessRun run = harness_run("contrast - --depth 4 --json", number_3);
    int lines = 0;
    assert_int_equal(run.status, 0);
    for (char *line = strtok(run.out, "\n"); line; line = strtok(NULL, "\n"), lines++) {
        cJSON *object = cJSON_Parse(line);
        assert_non_null(object);
        if (lines == 0) {
            assert_string_equal(cJSON_GetObjectItem(object, "verdict")->valuestring, "applies");
            assert_int_equal(cJSON_GetObjectItem(cJSON_GetObjectItem(object, "on"), "depth")->valueint, 4);
        }
        cJSON_Delete(object);
    }
    assert_int_equal(lines, 1 + CLASS_COUNT);
    harness_free(&run);
}

static void mistakes_get_one_line(void **state)
{
    (void)state;
    assert_refused("contrast", "", 2, "there is no suite");
    assert_refused("contrast - --nodes 10 --depth 3", number_1, 2, "several limits");
    assert_refused("contrast - --json --csv", number_1, 2, "both --json and --csv");
    assert_refused("contrast - --weight -1", number_1, 2, "--weight");
    assert_refused("contrast - --table 0", number_1, 2, "--table");
    assert_refused("contrast - --frobnicate", number_1, 2, "unknown option");
    assert_refused("contrast /nonexistent/suite.epd", "", 1, "/nonexistent/suite.epd");
}

/* The good line is still searched, and the status says that something was wrong. */
static void bad_lines_are_left_out(void **state)
{
    (void)state;
    char input[1024];
    snprintf(input, sizeof input, "8/8/8 w - - id \"bad\";\n%s\n", number_1);
    HarnessRun run = harness_run("contrast - --nodes 2000 --csv", input);
    assert_int_equal(run.status, 1);
    assert_non_null(strstr(run.err, ":1: "));
    assert_non_null(strstr(run.out, "\none,"));
    harness_free(&run);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(classes_are_those_of_the_side_to_move),
        cmocka_unit_test(both_arms_solve_the_mate),
        cmocka_unit_test(arms_of_equal_weight_agree_in_everything),
        cmocka_unit_test(the_term_makes_a_difference_where_it_applies),
        cmocka_unit_test(moves_to_avoid_count),
        cmocka_unit_test(names_are_whole_characters),
        cmocka_unit_test(positions_without_a_choice_are_refused),
        cmocka_unit_test(summary_counts_and_tests),
        cmocka_unit_test(sentences_follow_the_interval),
        cmocka_unit_test(output_does_not_depend_on_workers),
        cmocka_unit_test(json_lines_hold_positions_then_classes),
        cmocka_unit_test(mistakes_get_one_line),
        cmocka_unit_test(bad_lines_are_left_out),
    };
    return cmocka_run_group_tests_name("contrast", tests, NULL, NULL);
}
