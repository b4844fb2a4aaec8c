/* The ladder of strengths: what is played, what is said of it, and what is refused. */
#include "tests/bench/run/run_in.h"

#include "bench/ladder/ladder_print.h"
#include "engine/spar/strength.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <sys/stat.h>

#define TWO "ladder --quiet --workers 2 --pairs 8 "
#define SHORT TWO "--adjudicate longest=60 "

/* A line of the table: level, pairs, score, its error, what is promised. */
typedef struct Row {
    int level, pairs;
    double score, error, promised;
} Row;

static Row row_of(const char *out, int level)
{
    Row row = {0};
    char start[16];
    snprintf(start, sizeof start, "\n%6d ", level);
    const char *line = strstr(out, start);
    assert_non_null(line);
    assert_int_equal(
        sscanf(line, "%d %d %lf%% %lf %lf%%", &row.level, &row.pairs, &row.score, &row.error, &row.promised),
        5);
    return row;
}

/* A difference of 200 is a score of 76 %, of 100 one of 64 %, of 400 one of 92 % by the normal table of the FIDE
 * handbook, B.02, 8.1.1 (from memory), which the logistic model meets within a percent. */
static void test_promises(void **state)
{
    static const struct {
        int level;
        double score;
    } table[] = {{1100, 64}, {1300, 76}, {1700, 92}};
    RunFiles *files = *state;
    HarnessRun run = run_in(files, SHORT "--levels 1000,1100,1300,1700");
    assert_done(&run);
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        Row row = row_of(run.out, table[i].level);
        assert_int_equal(row.pairs, 8);
        assert_true(row.promised > table[i].score - 1.5 && row.promised < table[i].score + 1.5);
    }
    assert_non_null(strstr(run.out, "  1700  anchor\n"));
    harness_free(&run);
}

/* Far apart, the stronger level wins nearly all; and what is stored is gone on with. */
static void test_stronger_is_stronger(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = run_in(files, TWO "--levels 1000,1800 --store @/ladder.db");
    assert_done(&run);
    assert_true(row_of(run.out, 1800).score > 85);
    assert_non_null(strstr(run.out, "Each level is better than the one below it."));
    HarnessRun again = run_in(files, TWO "--levels 1000,1800 --store @/ladder.db");
    assert_string_equal(run.out, again.out);
    HarnessRun other = run_in(files, TWO "--levels 1000,1600 --store @/ladder.db");
    assert_int_equal(other.status, 1);
    assert_non_null(strstr(other.err, "holds another experiment"));
    assert_int_equal(run_number(run_path(files, "ladder.db"), "SELECT count(*) FROM game"), 16);
    harness_free(&run);
    harness_free(&again);
    harness_free(&other);
}

/* The suite tells the levels apart, too. */
static void test_suite(void **state)
{
    RunFiles *files = *state;
    HarnessRun run =
        run_in(files, SHORT "--levels 1000,1800 --pairs 1 --suite bench/positions/bratko-kopec.epd");
    double weak, strong, people;
    assert_done(&run);
    const char *table = strstr(run.out, "Solved of 24 positions");
    assert_non_null(table);
    assert_int_equal(sscanf(strstr(table, "\n  1000 "), "%*d %lf %lf", &weak, &people), 2);
    assert_int_equal(sscanf(strstr(table, "\n  1800 "), "%*d %lf %lf", &strong, &people), 2);
    assert_true(strong > weak + 2 && strong <= 24);
    harness_free(&run);
}

static double number_in(const cJSON *object, const char *name)
{
    const cJSON *value = cJSON_GetObjectItemCaseSensitive(object, name);
    if (!cJSON_IsNumber(value))
        fail_msg("no number \"%s\"", name);
    return value->valuedouble;
}

/* The one object on the one line that a run prints. */
static cJSON *only_object(const char *out)
{
    const char *end;
    cJSON *object = cJSON_ParseWithOpts(out, &end, 0);
    assert_true(cJSON_IsObject(object));
    assert_string_equal(end, "\n");
    return object;
}

/* A line for each level, with the numbers that the JSON has. */
static void check_csv(const char *csv, const cJSON *steps)
{
    static const char head[] = "level,measured,measured_low,measured_high,against,pairs,score_promised,score,"
                               "score_low,score_high,elo,elo_low,elo_high,solved\n";
    assert_memory_equal(csv, head, strlen(head));
    int commas = 0, lines = 0;
    for (const char *at = csv; *at; at++)
        commas += *at == ',', lines += *at == '\n';
    assert_int_equal(lines, 4);
    assert_int_equal(commas, 4 * 13);
    double score, promised;
    int against, pairs;
    const char *line = strstr(csv, "\n1200,");
    assert_non_null(line);
    assert_int_equal(sscanf(line, "\n1200,%*f,%*f,%*f,%d,%d,%lf,%lf,", &against, &pairs, &promised, &score),
                     4);
    assert_int_equal(against, 1000);
    assert_int_equal(pairs, 8);
    assert_true(fabs(score - number_in(cJSON_GetArrayItem(steps, 0), "score")) < 1e-6);
    assert_true(fabs(promised - number_in(cJSON_GetArrayItem(steps, 0), "score_promised")) < 1e-6);
}

/* The ladder for programs: what a table for people says of each step, and how the steps add up. */
static void test_for_programs(void **state)
{
    enum { LEVELS = 3 };
    RunFiles *files = *state;
    HarnessRun table = run_in(files, SHORT "--levels 1000,1200,1400 --store @/ladder.db");
    HarnessRun csv = run_in(files, SHORT "--levels 1000,1200,1400 --store @/ladder.db --csv");
    HarnessRun run = run_in(files, SHORT "--levels 1000,1200,1400 --store @/ladder.db --json --timings "
                                         "--suite bench/positions/bratko-kopec.epd");
    assert_done(&table);
    assert_done(&csv);
    assert_done(&run);
    cJSON *ladder = only_object(run.out);
    const cJSON *levels = cJSON_GetObjectItemCaseSensitive(ladder, "levels"),
                *steps = cJSON_GetObjectItemCaseSensitive(ladder, "steps");
    assert_int_equal(cJSON_GetArraySize(levels), LEVELS);
    assert_int_equal(cJSON_GetArraySize(steps), LEVELS - 1);
    assert_int_equal(number_in(ladder, "anchor"), 1400);
    for (int i = 1; i < LEVELS; i++) {
        const cJSON *step = cJSON_GetArrayItem(steps, i - 1), *level = cJSON_GetArrayItem(levels, i),
                    *below = cJSON_GetArrayItem(levels, i - 1);
        Row row = row_of(table.out, 1000 + 200 * i);
        double score = number_in(step, "score"), low = number_in(step, "score_low"),
               high = number_in(step, "score_high");
        assert_int_equal(number_in(step, "level"), row.level);
        assert_int_equal(number_in(step, "against"), row.level - 200);
        assert_int_equal(number_in(step, "pairs"), 8);
        assert_int_equal(number_in(step, "pairs_planned"), 8);
        /* A. E. Elo, "The Rating of Chessplayers, Past and Present", 1978, 8.4: the logistic curve. */
        assert_true(fabs(number_in(step, "score_promised") - 1 / (1 + pow(10, -0.5))) < 1e-6);
        assert_true(fabs(score - 1 / (1 + pow(10, -number_in(step, "elo") / 400))) < 1e-6);
        assert_true(low < score && score < high);
        assert_true(fabs(100 * score - row.score) < 0.0501 && fabs(50 * (high - low) - row.error) < 0.0501);
        assert_true(fabs(number_in(level, "measured") - number_in(below, "measured") -
                         number_in(step, "elo")) < 1e-5);
        assert_true(number_in(level, "solved") > 0 && number_in(level, "solved") <= 24);
        assert_true(number_in(level, "solved_by_people") > number_in(below, "solved_by_people"));
    }
    const cJSON *anchor = cJSON_GetArrayItem(levels, LEVELS - 1);
    assert_true(number_in(anchor, "measured_low") == 1400 && number_in(anchor, "measured_high") == 1400);
    assert_true(cJSON_IsBool(cJSON_GetObjectItemCaseSensitive(ladder, "monotone")));
    const cJSON *suite = cJSON_GetObjectItemCaseSensitive(ladder, "suite");
    assert_int_equal(number_in(suite, "positions"), 24);
    assert_int_equal(number_in(cJSON_GetObjectItemCaseSensitive(ladder, "timings"), "games"), 0);
    assert_true(cJSON_IsObject(cJSON_GetObjectItemCaseSensitive(ladder, "settings")));
    check_csv(csv.out, steps);
    cJSON_Delete(ladder);
    harness_free(&table);
    harness_free(&csv);
    harness_free(&run);
}

static char *printed(const StoredRun *run, RunFormat format)
{
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    assert_true(ladder_print(NULL, out, run, format, NULL));
    assert_int_equal(fclose(out), 0);
    return text;
}

/* What nobody has played yet is no number, and no reason to call the scale wrong. */
static void test_nothing_played(void **state)
{
    static StoredRun run = {.arm_count = 2,
                            .arms = {{.parameters = "elo=1000"}, {.parameters = "elo=1200"}},
                            .match_count = 1,
                            .matches = {{.arm_a = 1, .arm_b = 0}},
                            .planned_pairs = 8};
    (void)state;
    char *text = printed(&run, RUN_AS_TEXT), *json = printed(&run, RUN_AS_JSON),
         *csv = printed(&run, RUN_AS_CSV);
    assert_non_null(strstr(text, "Not every step has been played yet."));
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf"));
    assert_non_null(strstr(json, "\"monotone\":null"));
    assert_non_null(strstr(json, "\"score\":null"));
    assert_non_null(strstr(json, "\"score_promised\":0.759747"));
    assert_non_null(strstr(csv, "\n1200,1200.000000,1200.000000,1200.000000,1000,0,0.759747,,"));
    assert_null(strstr(csv, "nan"));
    free(text);
    free(json);
    free(csv);
}

static void test_refusals(void **state)
{
    (void)state;
    assert_refused("ladder --levels 1000", "", 2, "expected two ratings");
    assert_refused("ladder --levels 1000,900", "", 2, "expected ratings from 1000 to 2400");
    assert_refused("ladder --levels 1400,1200", "", 2, "expected ratings that rise");
    assert_refused("ladder --levels 1400,x", "", 2, "expected ratings from");
    assert_refused("ladder more", "", 2, "one argument too many");
    assert_refused("ladder --effect 10", "", 2, "questions to a duel");
    assert_refused("ladder --margin 10", "", 2, "questions to a duel");
    assert_refused("ladder --pairs 1 --suite /nowhere --quiet", "", 1, "/nowhere");
}

/* Strengths and styles are arms of a duel, and what differs is written down. */
static void test_arms(void **state)
{
    RunFiles *files = *state;
    HarnessRun run = run_in(files, "duel --quiet --workers 2 --pairs 30 --nodes 600 --adjudicate longest=60 "
                                   "--openings bench/openings/strata.epd --strata firm-applies "
                                   "--style faithful:contrary --spar-margin 200 --json --store @/styles.db");
    assert_done(&run);
    assert_int_equal(
        run_number(run_path(files, "styles.db"),
                   "SELECT count(*) FROM arm WHERE parameters = 'style=faithful margin=200' AND arm = 0"
                   " OR parameters = 'style=contrary margin=200' AND arm = 1"),
        2);
    /* The one plays its lever, the other does not. */
    int sides, faithful, contrary;
    const char *lever = strstr(run.out, "\"lever\":");
    assert_non_null(lever);
    if (sscanf(lever, "\"lever\":{\"sides\":%d,\"played\":{\"a\":%d,\"b\":%d", &sides, &faithful,
               &contrary) != 3)
        fail_msg("%.200s", lever);
    assert_true(2 * faithful > 3 * contrary);
    harness_free(&run);
    assert_refused("duel --style loyal", "", 2, "each objective, faithful, contrary or patient");
    assert_refused("duel --spar-margin 30:x", "", 2, "in centipawns");
    assert_refused("duel --elo 900", "", 2, "each from 1000 to 2400, or 0");
}

/* A style and a strength reach a program by the options of the protocol: it plays the games of the engine built in, move by
 * move, whichever process plays which of them. */
static void test_arms_that_are_programs(void **state)
{
    static const char *const arms[] = {"--style contrary", "--elo 1000 --style faithful --spar-margin 100"};
    RunFiles *files = *state;
    const char *build = getenv("PAWNVANE_BUILD");
    for (size_t i = 0; i < sizeof arms / sizeof *arms; i++) {
        HarnessRun run =
            run_in(files,
                   "duel --quiet --workers 2 --pairs 4 --nodes 400 --adjudicate longest=40 --openings "
                   "bench/openings/strata.epd --strata firm-applies --json --engine-b %s/pawnvane %s",
                   build ? build : "build", arms[i]);
        assert_done(&run);
        if (!strstr(run.out, "\"pairs_with_same_games\":4"))
            fail_msg("%s: %s", arms[i], run.out);
        harness_free(&run);
    }
}

/* A program that has no such option, or not with that value, is not taken for one that has. */
static void test_programs_without_the_option(void **state)
{
    static const struct {
        const char *option, *arms, *told;
    } programs[] = {
        {"", "--style faithful", "the engine has no option SparStyle; expected one"},
        {"", "--elo 1400", "the engine has no option UCI_Elo; expected one"},
        {"option name UCI_Elo type spin default 1500 min 1320 max 3190", "--elo 2000:1000",
         "the engine's option UCI_Elo goes from 1320 to 3190; expected an arm within that, not 1000"},
        {"option name UCI_Elo type spin default 1500 min 800 max 1900", "--elo 0:2000",
         "the engine's option UCI_Elo goes from 800 to 1900; expected an arm within that, not 2000"},
    };
    RunFiles *files = *state;
    for (size_t i = 0; i < sizeof programs / sizeof *programs; i++) {
        char script[512];
        snprintf(script, sizeof script,
                 "#!/bin/sh\nwhile read -r word rest; do case $word in uci) echo '%s'; echo uciok;; "
                 "isready) echo readyok;; quit) exit;; esac; done\n",
                 programs[i].option);
        run_write(run_path(files, "program"), script);
        assert_int_equal(chmod(run_path(files, "program"), 0755), 0);
        char arguments[256];
        snprintf(arguments, sizeof arguments,
                 "duel --quiet --workers 2 --pairs 4 --nodes 60 --engine-b @/program %s", programs[i].arms);
        refused(files, 1, programs[i].told, arguments);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_promises, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_stronger_is_stronger, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_for_programs, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_nothing_played),
        cmocka_unit_test_setup_teardown(test_suite, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test_setup_teardown(test_arms, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_arms_that_are_programs, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_programs_without_the_option, run_files_setup,
                                        run_files_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
