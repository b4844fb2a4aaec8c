/* Worlds of paired games whose truth is known, runs that are drawn from them, and how often what is said of
 * such runs is wrong. */
#ifndef PAWNVANE_TESTS_MATCH_WORLDS_H
#define PAWNVANE_TESTS_MATCH_WORLDS_H

#include "bench/base/random.h"
#include "bench/report/stratum_weights.h"
#include "bench/run/after_stop.h"
#include "bench/run/match_summary.h"
#include "bench/run/run_comparison.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Chances of the five outcomes of a pair. */
typedef struct Chances {
    const char *name;
    double p[PAIR_OUTCOMES];
} Chances;

enum { EVEN, DRAWISH, SHARP, BETTER, NEARLY_TIES, RARE_WINS, MATCH_WORLDS };

/* In all but BETTER and RARE_WINS the arms are equally good. */
static const Chances match_worlds[MATCH_WORLDS] = {
    [EVEN] = {"even", {0.04, 0.20, 0.52, 0.20, 0.04}},
    [DRAWISH] = {"drawish", {0.01, 0.09, 0.80, 0.09, 0.01}},
    [SHARP] = {"sharp", {0.20, 0.15, 0.30, 0.15, 0.20}},
    [BETTER] = {"one arm better", {0.03, 0.15, 0.47, 0.27, 0.08}},
    [NEARLY_TIES] = {"nearly all ties", {0.005, 0.01, 0.97, 0.01, 0.005}},
    [RARE_WINS] = {"ties, rare wins", {0, 0, 0.97, 0, 0.03}},
};

static inline double chances_mean(const Chances *chances)
{
    double sum = 0;
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        sum += chances->p[i] * i / 4;
    return sum;
}

/* Which outcome a number from 0 to 1 stands for. */
static inline int outcome_at(const Chances *chances, double drawn)
{
    int outcome = 0;
    for (; outcome < PAIR_OUTCOMES - 1 && drawn >= chances->p[outcome]; outcome++)
        drawn -= chances->p[outcome];
    return outcome;
}

static inline void play_pair(const Chances *chances, Random *random, PairCounts *counts)
{
    counts->n[outcome_at(chances, random_unit(random))]++;
}

static inline PairCounts play_match(const Chances *chances, Random *random, int pairs)
{
    PairCounts counts = {{0}};
    for (int i = 0; i < pairs; i++)
        play_pair(chances, random, &counts);
    return counts;
}

/* The chances moved so that the mean is that of an Elo difference. */
static inline Chances at_elo(Chances chances, double elo)
{
    double shift = (score_from_elo(elo) - chances_mean(&chances)) * 2;
    chances.p[1] -= shift;
    chances.p[3] += shift;
    return chances;
}

/* --------------------------------------------------------------------------------------- single matches */

/* Shares of the matches drawn. */
typedef struct MatchShares {
    double covered; /* the interval holds the true score */
    double small_p; /* P below 0.05 */
    double claimed; /* "helped" or "harmed" */
} MatchShares;

static inline MatchShares match_shares(const Chances *world, int pairs, int matches, uint64_t seed)
{
    MatchShares shares = {0};
    double truth = chances_mean(world);
    for (uint64_t match = 0; match < (uint64_t)matches; match++) {
        Random random = random_for_job(seed, match);
        GroupSummary group = {.counts = play_match(world, &random, pairs)};
        group.estimate = match_estimate(&group.counts, 0.95);
        group.p_adjusted = group.estimate.p_value;
        Effect effect = group_effect(&group);
        shares.covered +=
            group.estimate.score_interval.low <= truth && truth <= group.estimate.score_interval.high;
        shares.small_p += group.estimate.p_value < 0.05;
        shares.claimed += effect == EFFECT_HELPED || effect == EFFECT_HARMED;
    }
    return (MatchShares){shares.covered / matches, shares.small_p / matches, shares.claimed / matches};
}

/* ------------------------------------------------------------------------------------------------ runs */

enum { DRAWN_STRATA = 6, DRAWN_DOSES = 5, DRAWN_MATCHES = 2 * DRAWN_DOSES };

/* A sweep of five doses in both readings, or a duel (its first match), on openings that are the
 * same in all. */
typedef struct DrawnRun {
    StoredRun run;
    StoredPair *pairs;
    char (*openings)[24];
} DrawnRun;

static inline void drawn_run_make(DrawnRun *drawn, int matches, int pairs)
{
    static char strata[DRAWN_STRATA][2] = {"1", "2", "3", "4", "5", "6"};
    static char rules[PS_RULE_COUNT][8] = {"strict", "loose"}, engine[] = "built in", none[] = "";
    static const int doses[DRAWN_DOSES] = {25, 50, 100, 200, 400};
    size_t count = (size_t)pairs;
    *drawn = (DrawnRun){.run = {.arm_count = matches + 1,
                                .match_count = matches,
                                .stratum_count = DRAWN_STRATA,
                                .planned_pairs = count,
                                .opening_count = count}};
    StoredRun *run = &drawn->run;
    drawn->pairs = calloc(count * (size_t)matches, sizeof *drawn->pairs);
    drawn->openings = calloc(count, sizeof *drawn->openings);
    run->openings = calloc(count, sizeof *run->openings);
    for (int i = 0; i < DRAWN_STRATA; i++)
        run->strata[i] = strata[i];
    for (int i = 0; i < pairs; i++) {
        snprintf(drawn->openings[i], sizeof drawn->openings[i], "opening %d", i);
        run->openings[i] = drawn->openings[i];
    }
    for (int i = 0; i < matches; i++) {
        run->arms[i + 1] = (StoredArm){doses[i % DRAWN_DOSES], rules[i / DRAWN_DOSES], 2500, none, engine};
        run->matches[i] = (StoredMatch){.arm_a = i + 1, .pairs = drawn->pairs + count * (size_t)i};
    }
    run->arms[0] = (StoredArm){0, rules[PS_STRICT], 2500, none, engine};
}

static inline void drawn_run_free(DrawnRun *drawn)
{
    free(drawn->pairs);
    free(drawn->openings);
    free(drawn->run.openings);
}

/* Plays all of it. What happens to an opening in one match is likely to happen in the others, as far as
 * `alike` says (0 to 1): that is how often a match takes the opening's luck and not luck of its own. `slopes`
 * are Elo for 100 % of the weight, by reading. */
static inline void drawn_run_play(DrawnRun *drawn, const Chances *world, double alike,
                                  const double slopes[PS_RULE_COUNT], Random *random)
{
    StoredRun *run = &drawn->run;
    for (int i = 0; i < run->match_count; i++)
        run->matches[i].count = 0;
    for (size_t pair = 0; pair < run->opening_count; pair++) {
        double luck = random_unit(random);
        for (int i = 0; i < run->match_count; i++) {
            Chances chances = at_elo(*world, slopes[i / DRAWN_DOSES] * run->arms[i + 1].weight / 100);
            double drawn_luck = random_unit(random) < alike ? luck : random_unit(random);
            run->matches[i].pairs[run->matches[i].count++] =
                (StoredPair){.pair = (int)pair,
                             .stratum = (int)pair % DRAWN_STRATA,
                             .points_a = outcome_at(&chances, drawn_luck)};
        }
    }
}

/* Shares of the runs drawn in which something is said that is not so, or in which an interval holds the
 * truth. */
typedef struct RunShares {
    double whole, strata, either; /* some match, some stratum: "helped" or "harmed" */
    double different;             /* of the first match: strata differ "more than chance" */
    double trend;                 /* some trend is a finding */
    double readings;              /* so is some difference of strict and loose */
    double slope_covered, reading_covered;
} RunShares;

static inline bool is_claim(const GroupSummary *group)
{
    Effect effect = group_effect(group);
    return effect == EFFECT_HELPED || effect == EFFECT_HARMED;
}

static inline void count_claims(RunShares *shares, const StoredRun *run)
{
    bool whole = false, strata = false;
    MatchSummary *summaries = run_summarise(run, &(Questions){0});
    for (int i = 0; i < run->match_count; i++) {
        whole |= is_claim(&summaries[i].all);
        for (int k = 0; k < run->stratum_count; k++)
            strata |= is_claim(&summaries[i].strata[k]);
    }
    shares->whole += whole;
    shares->strata += strata;
    shares->either += whole || strata;
    shares->different += summaries[0].heterogeneity.p_value < 0.05;
    free(summaries);
}

static inline bool covers(const Difference *difference, double elo)
{
    return difference->interval.low <= elo && elo <= difference->interval.high;
}

static inline void count_comparisons(RunShares *shares, const StoredRun *run,
                                     const double slopes[PS_RULE_COUNT])
{
    Trend trends[PS_RULE_COUNT];
    MatchOf matches[DRAWN_MATCHES];
    ReadingPair *pairs;
    bool trend = false, reading = false;
    for (int i = 0; i < run->match_count; i++)
        matches[i] = (MatchOf){run, i};
    int count = reading_pairs(matches, run->match_count, &pairs);
    run_trends(run, trends);
    for (int rule = 0; rule < PS_RULE_COUNT; rule++)
        trend |= difference_is_finding(&trends[rule].slope);
    for (int i = 0; i < count; i++)
        reading |= difference_is_finding(&pairs[i].difference);
    shares->trend += trend;
    shares->readings += reading;
    shares->slope_covered += covers(&trends[PS_STRICT].slope, slopes[PS_STRICT]);
    shares->reading_covered +=
        count > 0 && covers(&pairs[0].difference, (slopes[PS_STRICT] - slopes[PS_LOOSE]) / 4);
    free(pairs);
}

static inline RunShares run_shares(const Chances *world, int matches, int pairs, double alike,
                                   const double slopes[PS_RULE_COUNT], int runs, uint64_t seed)
{
    RunShares shares = {0};
    DrawnRun drawn;
    drawn_run_make(&drawn, matches, pairs);
    for (uint64_t i = 0; i < (uint64_t)runs; i++) {
        Random random = random_for_job(seed, i);
        drawn_run_play(&drawn, world, alike, slopes, &random);
        count_claims(&shares, &drawn.run);
        if (matches > 1)
            count_comparisons(&shares, &drawn.run, slopes);
    }
    drawn_run_free(&drawn);
    double *all = (double *)&shares;
    for (size_t i = 0; i < sizeof shares / sizeof *all; i++)
        all[i] /= runs;
    return shares;
}

/* ----------------------------------------------------------------------------------------- after a stop */

typedef struct StopShares {
    double alternative, null, undecided; /* verdicts */
    double small_p, fixed_covered;       /* what the fixed-sample rules would have said */
    double covered;                      /* the time-uniform interval holds the truth */
    double claimed;                      /* "helped" or "harmed", by the verdict or that interval */
    double plain_elo, adjusted_elo;      /* of the mean scores: over all matches, over each fourth */
} StopShares;

static inline StopShares stop_shares(const Chances *world, double elo, const SequentialTest *test,
                                     int planned, int matches, uint64_t seed)
{
    StopRule rule = {.when = STOP_AT_DECISION, .test = *test};
    Chances chances = at_elo(*world, elo);
    double truth = chances_mean(&chances), plain = 0, adjusted = 0;
    int adjustments = 0;
    StopShares s = {0};
    for (uint64_t match = 0; match < (uint64_t)matches; match++) {
        Random random = random_for_job(seed, match);
        PairCounts counts = {{0}};
        do
            play_pair(&chances, &random, &counts);
        while (!stop_reached(&rule, &counts) && pair_total(&counts) < (uint64_t)planned);
        Verdict verdict = sequential_verdict(test, &counts);
        MatchEstimate e = match_estimate(&counts, 0.95);
        Interval interval = time_uniform_interval(&counts, 0.95);
        s.alternative += verdict == VERDICT_ALTERNATIVE;
        s.null += verdict == VERDICT_NULL;
        s.undecided += verdict == VERDICT_GO_ON;
        s.small_p += e.p_value < 0.05;
        s.fixed_covered += e.score_interval.low <= truth && truth <= e.score_interval.high;
        s.covered += interval.low <= truth && truth <= interval.high;
        s.claimed +=
            effect_by_test(test, &counts) != EFFECT_NONE || interval.low > 0.5 || interval.high < 0.5;
        plain += e.score;
        /* It takes longer than the match. */
        if (match % 4 == 0) {
            adjusted += bias_adjusted_score(&counts, test, (size_t)planned);
            adjustments++;
        }
    }
    double *all = (double *)&s;
    for (size_t i = 0; i < sizeof s / sizeof *all; i++)
        all[i] /= matches;
    s.plain_elo = elo_from_score(plain / matches);
    s.adjusted_elo = elo_from_score(adjusted / adjustments);
    return s;
}

/* ------------------------------------------------------------------------------------------ other rules */

/* How often arms that differ by just the margin are called equivalent. */
static inline double equivalence_share(const Chances *world, double margin, int pairs, int matches,
                                       uint64_t seed)
{
    Chances chances = at_elo(*world, margin);
    int called = 0;
    for (uint64_t match = 0; match < (uint64_t)matches; match++) {
        Random random = random_for_job(seed, match);
        PairCounts counts = play_match(&chances, &random, pairs);
        called += match_equivalence(&counts, margin) < 0.05;
    }
    return (double)called / matches;
}

/* How often the interval of a weighted mean over strata of different worlds holds the truth. */
static inline double weighted_coverage(const int worlds[DRAWN_STRATA], int pairs, int matches, uint64_t seed)
{
    static char names[DRAWN_STRATA][2] = {"1", "2", "3", "4", "5", "6"};
    StratumWeights weights = {DRAWN_STRATA, {0}, {0.4, 0.25, 0.15, 0.1, 0.06, 0.04}};
    double truth = 0;
    int covered = 0;
    for (int i = 0; i < DRAWN_STRATA; i++) {
        weights.names[i] = names[i];
        truth += weights.shares[i] * chances_mean(&match_worlds[worlds[i]]);
    }
    for (uint64_t match = 0; match < (uint64_t)matches; match++) {
        Random random = random_for_job(seed, match);
        MatchSummary summary = {.stratum_count = DRAWN_STRATA};
        for (int i = 0; i < DRAWN_STRATA; i++) {
            summary.strata[i].name = names[i];
            summary.strata[i].counts = play_match(&match_worlds[worlds[i]], &random, pairs);
            summary.strata[i].estimate = match_estimate(&summary.strata[i].counts, 0.95);
        }
        Interval elo = weighted_estimate(&weights, &summary).elo_interval;
        covered += elo.low <= elo_from_score(truth) && elo_from_score(truth) <= elo.high;
    }
    return (double)covered / matches;
}

#endif
