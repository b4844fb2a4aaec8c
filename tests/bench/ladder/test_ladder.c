/* The ladder of strengths: what is played, what is said of it, and what is refused. */
#include "tests/bench/run/run_in.h"

#include "engine/spar/strength.h"

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

static void test_refusals(void **state)
{
    (void)state;
    assert_refused("ladder --levels 1000", "", 2, "expected two ratings");
    assert_refused("ladder --levels 1000,900", "", 2, "expected ratings from 1000 to 2400");
    assert_refused("ladder --levels 1400,1200", "", 2, "expected ratings that rise");
    assert_refused("ladder --levels 1400,x", "", 2, "expected ratings from");
    assert_refused("ladder more", "", 2, "one argument too many");
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_promises, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_stronger_is_stronger, run_files_setup, run_files_teardown),
        cmocka_unit_test_setup_teardown(test_suite, run_files_setup, run_files_teardown),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test_setup_teardown(test_arms, run_files_setup, run_files_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
