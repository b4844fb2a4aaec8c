/* What is said of the matches of a run: families of tests, strata without information, sequential tests. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/statistics/match_worlds.h"

static void assert_near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", value, tolerance, expected);
}

static const Questions nothing = {0, 0};
static const double none[PS_RULE_COUNT] = {0, 0};

static MatchSummary *drawn_summary(DrawnRun *drawn, int matches, int pairs, uint64_t seed)
{
    Random random = random_seeded(seed);
    drawn_run_make(drawn, matches, pairs);
    drawn_run_play(drawn, &match_worlds[EVEN], 0.5, none, &random);
    MatchSummary *summaries = run_summarise(&drawn->run, &nothing);
    assert_non_null(summaries);
    return summaries;
}

static void test_families(void **state)
{
    (void)state;
    enum { TESTS = DRAWN_MATCHES * (1 + DRAWN_STRATA) };
    DrawnRun drawn;
    double p[TESTS], weights[TESTS];
    MatchSummary *summaries = drawn_summary(&drawn, DRAWN_MATCHES, 240, 5);
    for (int i = 0; i < TESTS; i++) {
        const MatchSummary *s = &summaries[i / (1 + DRAWN_STRATA)];
        int stratum = i % (1 + DRAWN_STRATA) - 1;
        p[i] = (stratum < 0 ? &s->all : &s->strata[stratum])->estimate.p_value;
        weights[i] = stratum < 0 ? 4 : 1.0 / DRAWN_STRATA;
        assert_int_equal(s->tests, TESTS);
    }
    holm_adjust_weighted(p, weights, TESTS, p);
    for (int i = 0; i < DRAWN_MATCHES; i++) {
        assert_near(summaries[i].all.p_adjusted, p[i * (1 + DRAWN_STRATA)], 1e-12);
        for (int k = 0; k < DRAWN_STRATA; k++)
            assert_near(summaries[i].strata[k].p_adjusted, p[i * (1 + DRAWN_STRATA) + 1 + k], 1e-12);
    }
    free(summaries);
    /* A single stratum is no other test than the whole. */
    drawn.run.stratum_count = 1;
    for (int i = 0; i < DRAWN_MATCHES * 240; i++)
        drawn.pairs[i].stratum = 0;
    summaries = run_summarise(&drawn.run, &nothing);
    double whole[DRAWN_MATCHES];
    for (int i = 0; i < DRAWN_MATCHES; i++)
        whole[i] = summaries[i].all.estimate.p_value;
    holm_adjust(whole, DRAWN_MATCHES, whole);
    for (int i = 0; i < DRAWN_MATCHES; i++) {
        assert_near(summaries[i].all.p_adjusted, whole[i], 1e-12);
        assert_near(summaries[i].strata[0].p_adjusted, whole[i], 1e-12);
    }
    free(summaries);
    drawn_run_free(&drawn);
}

/* What the arms played alike tells nothing: it neither widens nor narrows Q. */
static void test_same_games(void **state)
{
    (void)state;
    DrawnRun drawn;
    MatchSummary *summaries = drawn_summary(&drawn, 1, 240, 7);
    assert_near(summaries[0].heterogeneity.degrees, DRAWN_STRATA - 1, 0);
    assert_false(group_plays_alike(&summaries[0].strata[0]));
    free(summaries);
    for (size_t i = 0; i < drawn.run.matches[0].count; i++)
        drawn.pairs[i].same_games = drawn.pairs[i].stratum == 0;
    summaries = run_summarise(&drawn.run, &nothing);
    assert_true(group_plays_alike(&summaries[0].strata[0]));
    assert_int_equal(summaries[0].all.same_games, 40);
    assert_near(summaries[0].heterogeneity.degrees, DRAWN_STRATA - 2, 0);
    free(summaries);
    drawn_run_free(&drawn);
}

static void test_sequential_run(void **state)
{
    (void)state;
    DrawnRun drawn;
    MatchSummary *summaries = drawn_summary(&drawn, 1, 240, 8);
    assert_false(summaries[0].sequential);
    free(summaries);
    char names[4][32] = {"until null, Elo", "until alternative, Elo", "until alpha", "until beta"};
    char values[4][8] = {"0", "30", "0.05", "0.1"};
    for (int i = 0; i < 4; i++)
        drawn.run.settings[drawn.run.setting_count++] = (StoredSetting){names[i], values[i]};
    summaries = run_summarise(&drawn.run, &(Questions){5, 5});
    const MatchSummary *s = &summaries[0];
    assert_true(s->sequential);
    assert_near(s->test.alternative_elo, 30, 0);
    assert_near(s->test.miss, 0.1, 0);
    /* No P, for the whole or a stratum, and the interval that holds at every moment. */
    assert_true(isnan(s->all.estimate.p_value) && isnan(s->all.p_adjusted) && isnan(s->all.p_equivalence));
    assert_true(isnan(s->strata[0].p_adjusted) && isnan(s->strata[0].estimate.elo_interval.low));
    Interval uniform = time_uniform_interval(&s->all.counts, 0.95);
    Interval fixed = match_estimate(&s->all.counts, 0.95).score_interval;
    assert_near(s->all.estimate.score_interval.low, uniform.low, 0);
    assert_true(uniform.low < fixed.low && uniform.high > fixed.high);
    assert_near(match_estimate_after(&drawn.run, 0, SIZE_MAX).score_interval.high, uniform.high, 0);
    assert_int_equal(group_effect(&s->strata[0]), EFFECT_OPEN);
    free(summaries);
    /* A verdict is a finding if it tests no effect against one at the 5 % level. */
    static const PairCounts better = {{10, 50, 200, 150, 40}}, worse = {{40, 150, 200, 50, 10}};
    assert_int_equal(effect_by_test(&(SequentialTest){0, 15, 0.05, 0.05}, &better), EFFECT_HELPED);
    assert_int_equal(effect_by_test(&(SequentialTest){-15, 0, 0.05, 0.05}, &worse), EFFECT_HARMED);
    assert_int_equal(effect_by_test(&(SequentialTest){0, 15, 0.05, 0.05}, &worse), EFFECT_NONE);
    assert_int_equal(effect_by_test(&(SequentialTest){0, 15, 0.2, 0.05}, &better), EFFECT_NONE);
    assert_int_equal(effect_by_test(&(SequentialTest){-15, 5, 0.05, 0.05}, &better), EFFECT_NONE);
    drawn_run_free(&drawn);
}

static void test_questions(void **state)
{
    (void)state;
    DrawnRun drawn;
    MatchSummary *summaries = drawn_summary(&drawn, 1, 240, 9);
    assert_true(isinf(summaries[0].all.pairs_needed) && isnan(summaries[0].all.p_equivalence));
    free(summaries);
    summaries = run_summarise(&drawn.run, &(Questions){5, 20});
    const GroupSummary *all = &summaries[0].all;
    assert_near(all->pairs_needed, match_pairs_needed(&all->counts, 5, 0.05, 0.80), 0);
    assert_near(all->p_equivalence, match_equivalence(&all->counts, 20), 0);
    free(summaries);
    drawn_run_free(&drawn);
}

/* No effect at all: how often does a word say there is one? */
static void test_levels_of_a_duel(void **state)
{
    (void)state;
    enum { RUNS = 1000 };
    static const int worlds[] = {EVEN, SHARP, NEARLY_TIES};
    for (int i = 0; i < 3; i++) {
        RunShares s = run_shares(&match_worlds[worlds[i]], 1, 240, 0, none, RUNS, 20 + (uint64_t)i);
        if (s.either > 0.06 || s.different > 0.06)
            fail_msg("%s: claims %.3f, different %.3f", match_worlds[worlds[i]].name, s.either, s.different);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_families),         cmocka_unit_test(test_same_games),
        cmocka_unit_test(test_sequential_run),   cmocka_unit_test(test_questions),
        cmocka_unit_test(test_levels_of_a_duel),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
