#include "bench/run/match_summary.h"
#include "bench/run/after_stop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double confidence = 0.95, level = 0.05, power = 0.80, whole_share = 0.8;

/* The test that was to stop the run. False if there was none: it had all its pairs to play, or stopped when
 * the interval was narrow, which says nothing of where that lies. */
static bool stored_test(const StoredRun *run, SequentialTest *test)
{
    static const char *const names[] = {"until null, Elo", "until alternative, Elo", "until alpha",
                                        "until beta"};
    double *values[] = {&test->null_elo, &test->alternative_elo, &test->false_alarm, &test->miss};
    for (int i = 0; i < 4; i++) {
        const char *text = stored_setting(run, names[i]);
        if (!text)
            return false;
        *values[i] = strtod(text, NULL);
    }
    return true;
}

bool run_is_sequential(const StoredRun *run)
{
    SequentialTest test;
    return stored_test(run, &test);
}

static void without_test(MatchEstimate *estimate, Interval score_interval)
{
    estimate->score_interval = score_interval;
    estimate->elo_interval =
        (Interval){elo_from_score(score_interval.low), elo_from_score(score_interval.high)};
    estimate->p_upper = estimate->p_value = NAN;
}

static void finish(GroupSummary *group, const Questions *questions)
{
    group->estimate = match_estimate(&group->counts, confidence);
    group->pairs_needed = INFINITY;
    group->p_equivalence = NAN;
    if (questions->effect > 0)
        group->pairs_needed = match_pairs_needed(&group->counts, questions->effect, level, power);
    if (questions->margin > 0)
        group->p_equivalence = match_equivalence(&group->counts, questions->margin);
}

static void count_pair(GroupSummary *group, const StoredPair *pair)
{
    group->counts.n[pair->points_a]++;
    group->same_games += pair->same_games;
}

/* Q says nothing of a stratum in which the arms were one. */
static Heterogeneity heterogeneity_of(const MatchSummary *summary)
{
    PairCounts counts[STRATA_MAX];
    size_t count = 0;
    for (int i = 0; i < summary->stratum_count; i++)
        if (!group_plays_alike(&summary->strata[i]))
            counts[count++] = summary->strata[i].counts;
    return match_heterogeneity(counts, count);
}

static bool set_levers(MatchSummary *summary, const StoredRun *run, const StoredMatch *match)
{
    Obedience obedience;
    if (!obedience_of(run, match, &obedience))
        return false;
    summary->all.lever = obedience.live;
    for (int i = 0; i < run->stratum_count; i++)
        summary->strata[i].lever = obedience.strata[i];
    memcpy(summary->levers, obedience.kinds, sizeof summary->levers);
    return true;
}

static bool summarise(MatchSummary *summary, const StoredRun *run, const StoredMatch *match,
                      const Questions *questions)
{
    *summary = (MatchSummary){.all = {.name = "all", .planned = run->planned_pairs},
                              .stratum_count = run->stratum_count};
    for (int i = 0; i < run->stratum_count; i++) {
        summary->strata[i].name = run->strata[i];
        summary->strata[i].planned = run->stratum_pairs[i];
    }
    for (size_t i = 0; i < match->count; i++) {
        count_pair(&summary->all, &match->pairs[i]);
        count_pair(&summary->strata[match->pairs[i].stratum], &match->pairs[i]);
    }
    summary->sequential = stored_test(run, &summary->test);
    finish(&summary->all, questions);
    for (int i = 0; i < run->stratum_count; i++)
        finish(&summary->strata[i], questions);
    summary->heterogeneity = heterogeneity_of(summary);
    if (!set_levers(summary, run, match))
        return false;
    if (!summary->sequential)
        return true;
    if (match->count >= STOP_PAIRS_LEAST)
        summary->all.by_test = effect_by_test(&summary->test, &summary->all.counts);
    without_test(&summary->all.estimate, time_uniform_interval(&summary->all.counts, confidence));
    summary->all.p_equivalence = NAN;
    for (int i = 0; i < run->stratum_count; i++) {
        without_test(&summary->strata[i].estimate, (Interval){NAN, NAN});
        summary->strata[i].p_equivalence = NAN;
    }
    return true;
}

/* The tests of a run, a match's whole and then its strata; of one stratum, which is the whole, there is no
 * test. */
static void adjust(MatchSummary *summaries, int matches, int strata)
{
    double p_values[MATCHES_MAX * (STRATA_MAX + 1)], weights[MATCHES_MAX * (STRATA_MAX + 1)];
    GroupSummary *groups[MATCHES_MAX * (STRATA_MAX + 1)];
    size_t count = 0;
    for (int i = 0; i < matches; i++)
        for (int k = 0; k <= (strata > 1 ? strata : 0); k++) {
            groups[count] = k == 0 ? &summaries[i].all : &summaries[i].strata[k - 1];
            p_values[count] = groups[count]->estimate.p_value;
            weights[count++] = k == 0 ? whole_share : (1 - whole_share) / strata;
        }
    if (count > 0 && !isnan(p_values[0]))
        holm_adjust_weighted(p_values, weights, count, p_values);
    for (size_t i = 0; i < count; i++)
        groups[i]->p_adjusted = p_values[i];
    for (int i = 0; i < matches; i++) {
        summaries[i].tests = (int)count;
        if (strata == 1)
            summaries[i].strata[0].p_adjusted = summaries[i].all.p_adjusted;
    }
}

MatchSummary *run_summarise(const StoredRun *run, const Questions *questions)
{
    MatchSummary *summaries = calloc((size_t)run->match_count + 1, sizeof *summaries);
    if (!summaries)
        return NULL;
    for (int i = 0; i < run->match_count; i++)
        if (!summarise(&summaries[i], run, &run->matches[i], questions)) {
            free(summaries);
            return NULL;
        }
    adjust(summaries, run->match_count, run->stratum_count);
    return summaries;
}

MatchEstimate match_estimate_after(const StoredRun *run, int match, size_t pairs)
{
    PairCounts counts = {{0}};
    SequentialTest test;
    for (size_t i = 0; i < run->matches[match].count && i < pairs; i++)
        counts.n[run->matches[match].pairs[i].points_a]++;
    MatchEstimate estimate = match_estimate(&counts, confidence);
    if (stored_test(run, &test))
        without_test(&estimate, time_uniform_interval(&counts, confidence));
    return estimate;
}

bool group_plays_alike(const GroupSummary *group)
{
    return group->estimate.pairs > 0 && group->same_games == group->estimate.pairs;
}

Effect effect_by_test(const SequentialTest *test, const PairCounts *counts)
{
    Verdict verdict = sequential_verdict(test, counts);
    if (verdict == VERDICT_ALTERNATIVE && test->null_elo >= 0 && test->false_alarm <= level)
        return EFFECT_HELPED;
    if (verdict == VERDICT_NULL && test->alternative_elo <= 0 && test->miss <= level)
        return EFFECT_HARMED;
    return EFFECT_NONE;
}

Effect group_effect(const GroupSummary *group)
{
    const Interval *interval = &group->estimate.score_interval;
    if (group->by_test != EFFECT_NONE)
        return group->by_test;
    if (group->estimate.pairs < FINDING_PAIRS)
        return EFFECT_NONE;
    /* After a sequential test there is an interval, and no P. */
    if (group->p_adjusted >= level || !(interval->low > 0.5 || interval->high < 0.5))
        return EFFECT_OPEN;
    return interval->low > 0.5 ? EFFECT_HELPED : EFFECT_HARMED;
}

const char *effect_name(Effect effect)
{
    static const char *const names[] = {[EFFECT_NONE] = "too few",
                                        [EFFECT_OPEN] = "open",
                                        [EFFECT_HELPED] = "helped",
                                        [EFFECT_HARMED] = "harmed"};
    return names[effect];
}
