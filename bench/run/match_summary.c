#include "bench/run/match_summary.h"

static const double confidence = 0.95, level = 0.05, power = 0.80;

static void finish(GroupSummary *group)
{
    group->estimate = match_estimate(&group->counts, confidence);
    group->p_adjusted = group->estimate.p_value;
    group->pairs_needed = match_pairs_needed(&group->counts, level, power);
}

MatchSummary match_summarise(const StoredRun *run, int match, size_t pairs)
{
    const StoredMatch *stored = &run->matches[match];
    MatchSummary summary = {.all = {.name = "all"}, .stratum_count = run->stratum_count};
    PairCounts counts[STRATA_MAX] = {0};
    double p_values[STRATA_MAX] = {0};
    for (size_t i = 0; i < stored->count && i < pairs; i++) {
        summary.all.counts.n[stored->pairs[i].points_a]++;
        counts[stored->pairs[i].stratum].n[stored->pairs[i].points_a]++;
    }
    finish(&summary.all);
    for (int i = 0; i < run->stratum_count; i++) {
        summary.strata[i] = (GroupSummary){.name = run->strata[i], .counts = counts[i]};
        finish(&summary.strata[i]);
        p_values[i] = summary.strata[i].estimate.p_value;
    }
    holm_adjust(p_values, (size_t)run->stratum_count, p_values);
    for (int i = 0; i < run->stratum_count; i++)
        summary.strata[i].p_adjusted = p_values[i];
    summary.heterogeneity = match_heterogeneity(counts, (size_t)run->stratum_count);
    return summary;
}
