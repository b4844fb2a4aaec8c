/* Tuning by simultaneous perturbation. What is right follows from the method: a game whose outcome depends on
 * the parameters in a known way has a known best point. */
#include "tests/bench/harness.h"

#include "bench/tune/tune.h"

#include <math.h>
#include <string.h>

static int index_of(const char *name)
{
    for (int i = 0; i < PARAMETER_COUNT; i++)
        if (strcmp(parameter_table[i].name, name) == 0)
            return i;
    abort();
}

static int value_of(const Parameters *parameters, int index)
{
    return ((const int *)parameters)[index];
}

static Tuning tuning_of_two(size_t rounds, double rate)
{
    return (Tuning){.count = 2,
                    .tuned = {{index_of("static_margin"), 10, 75}, {index_of("null_divisor"), 2, 10}},
                    .fixed = default_parameters,
                    .rounds = rounds,
                    .trials = 8,
                    .rate = rate,
                    .seed = 5};
}

/* Each parameter is moved to both sides, by its step at the end and by more before, equally often, and
 * independently of the others; parameters that are not tuned stay. */
static void trials_are_symmetric(void **state)
{
    enum { ROUNDS = 500 };
    Tuning t = tuning_of_two(ROUNDS, 0.01);
    int ups[2] = {0, 0}, together = 0, count = 0;
    (void)state;
    for (size_t round = 0; round < ROUNDS; round++)
        for (size_t number = 0; number < t.trials; number++, count++) {
            Trial trial;
            tuning_draw(&t, round, number, &trial);
            for (int i = 0; i < 2; i++) {
                int up = value_of(&trial.up, t.tuned[i].index),
                    down = value_of(&trial.down, t.tuned[i].index);
                double moved = (up - down) * trial.signs[i] / 2.0;
                assert_true(moved >= t.tuned[i].step - 1 && moved <= 2 * t.tuned[i].step + 1);
                assert_true(fabs((up + down) / 2.0 - t.tuned[i].value) <= 0.5);
                ups[i] += trial.signs[i] > 0;
            }
            together += trial.signs[0] == trial.signs[1];
            assert_int_equal(trial.up.null_base, default_parameters.null_base);
        }
    /* Binomial: five standard deviations. */
    double allowed = 5 * sqrt(count) / 2;
    assert_true(fabs(ups[0] - count / 2.0) < allowed && fabs(ups[1] - count / 2.0) < allowed);
    assert_true(fabs(together - count / 2.0) < allowed);
}

/* A value between two whole numbers is tried as both, so that the mean is right. */
static void fractions_are_tossed_for(void **state)
{
    enum { TRIALS = 4000 };
    Tuning t = tuning_of_two(1, 0.01);
    t.trials = TRIALS;
    t.tuned[0].value = 75.25;
    double sum = 0;
    (void)state;
    for (size_t number = 0; number < TRIALS; number++) {
        Trial trial;
        tuning_draw(&t, 0, number, &trial);
        sum += value_of(&trial.up, t.tuned[0].index) - trial.signs[0] * t.tuned[0].step;
    }
    assert_true(fabs(sum / TRIALS - 75.25) < 5 * sqrt(0.25 * 0.75 / TRIALS));
}

/* How strong a side is: best at 110 and 5, each 40 Elo less a few steps away. */
static double strength(const Parameters *p)
{
    double a = (p->static_margin - 110) / 30.0, b = (p->null_divisor - 5) / 5.0;
    return -40 * (a * a + b * b);
}

/* A pair of games without draws, by the usual logistic curve. */
static int play_pair(Random *random, const Trial *trial)
{
    double p = 1 / (1 + pow(10, (strength(&trial->down) - strength(&trial->up)) / 400));
    int points = 0;
    for (int game = 0; game < 2; game++)
        points += random_unit(random) < p ? 2 : -2;
    return points;
}

static void the_best_point_is_found(void **state)
{
    enum { ROUNDS = 3000 };
    Tuning t = tuning_of_two(ROUNDS, 0.01);
    const Parameters start = tuning_parameters(&t);
    Random random = random_seeded(9);
    Trial trials[8];
    (void)state;
    for (size_t round = 0; round < ROUNDS; round++) {
        for (size_t i = 0; i < t.trials; i++) {
            tuning_draw(&t, round, i, &trials[i]);
            trials[i].points = play_pair(&random, &trials[i]);
        }
        tuning_learn(&t, round, trials);
    }
    Parameters best = tuning_parameters(&t);
    print_message("tuned to %.1f and %.1f; best 110 and 5\n", t.tuned[0].value, t.tuned[1].value);
    assert_true(strength(&start) < -75);
    assert_true(strength(&best) > -10);
    assert_int_equal(best.null_base, default_parameters.null_base);
}

/* Whatever happens, values and trials stay where parameters may be. */
static void bounds_hold(void **state)
{
    Tuning t = tuning_of_two(50, 10);
    Trial trials[8];
    (void)state;
    for (size_t round = 0; round < 50; round++) {
        for (size_t i = 0; i < t.trials; i++) {
            tuning_draw(&t, round, i, &trials[i]);
            for (int j = 0; j < 2; j++) {
                const ParameterInfo *info = &parameter_table[t.tuned[j].index];
                assert_in_range(value_of(&trials[i].up, t.tuned[j].index), info->least, info->greatest);
                assert_in_range(value_of(&trials[i].down, t.tuned[j].index), info->least, info->greatest);
            }
            trials[i].points = 4 * trials[i].signs[0];
        }
        tuning_learn(&t, round, trials);
    }
    assert_true(t.tuned[0].value > parameter_table[t.tuned[0].index].greatest - 1);
}

#define SMALL                                                                                                \
    "tune --parameter static_margin=10 --parameter null_divisor=2 --set static_margin=75 --quiet --nodes "   \
    "60 "                                                                                                    \
    "--table 1 "

static void workers_change_nothing(void **state)
{
    (void)state;
    HarnessRun one = harness_run(SMALL "--rounds 20 --pairs 3 --rate 1 --workers 1", "");
    HarnessRun three = harness_run(SMALL "--rounds 20 --pairs 3 --rate 1 --workers 3", "");
    assert_int_equal(one.status, 0);
    assert_string_equal(one.err, "");
    assert_string_equal(one.out, three.out);
    assert_non_null(strstr(one.out, "0 pairs: static_margin=75 null_divisor="));
    assert_non_null(strstr(one.out, "\n60 pairs: static_margin="));
    assert_null(strstr(one.out, "\n60 pairs: static_margin=75 "));
    harness_free(&one);
    harness_free(&three);
}

static void mistakes_are_refused(void **state)
{
    static const char *const refused[][2] = {
        {"tune", "--parameter is missing"},
        {"tune --parameter unheard_of=3", "there is no parameter unheard_of"},
        {"tune --parameter share_first=3", "share_first has no say in games by nodes"},
        {"tune --parameter null_divisor=1 --set share_first=90",
         "--set share_first has no say without a clock"},
        {"tune --parameter null_divisor", "there is no step"},
        {"tune --parameter null_divisor=0", "a step from 1 to"},
        {"tune --parameter null_divisor=1 --parameter null_divisor=2", "is there twice"},
        {"tune --parameter null_divisor=1 --set A.null_divisor=3", "expected NAME=VALUE"},
        {"tune --parameter null_divisor=1 --set null_divisor=1000", "out of range"},
        {"tune --parameter null_divisor=1 x", "one argument too many"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        HarnessRun run = harness_run(refused[i][0], "");
        assert_int_equal(run.status, 2);
        assert_string_equal(run.out, "");
        if (!strstr(run.err, refused[i][1]) || strchr(run.err, '\n') != run.err + strlen(run.err) - 1)
            fail_msg("\"%s\" says \"%s\"", refused[i][0], run.err);
        harness_free(&run);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(trials_are_symmetric),    cmocka_unit_test(fractions_are_tossed_for),
        cmocka_unit_test(the_best_point_is_found), cmocka_unit_test(bounds_hold),
        cmocka_unit_test(workers_change_nothing),  cmocka_unit_test(mistakes_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
