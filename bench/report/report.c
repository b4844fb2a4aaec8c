#include "bench/report/report.h"
#include "bench/run/after_stop.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------------------------------- the matches */

static void arm_name(const StoredArm *arm, bool with_nodes, char *text, size_t size)
{
    int length = snprintf(text, size, "weight %d", arm->weight);
    if (arm->weight != 0)
        length += snprintf(text + length, size - (size_t)length, ", %s", arm->rule);
    if (with_nodes && arm->nodes > 0)
        length +=
            snprintf(text + length, size - (size_t)length, ", %lld nodes a move", (long long)arm->nodes);
    if (*arm->parameters != '\0')
        snprintf(text + length, size - (size_t)length, ", %.60s", arm->parameters);
}

static void match_name(ReportMatch *match)
{
    char a[REPORT_NAME_SIZE / 3], b[REPORT_NAME_SIZE / 3];
    bool same = match->a->nodes == match->b->nodes;
    arm_name(match->a, !same, a, sizeof a);
    arm_name(match->b, !same, b, sizeof b);
    int length = snprintf(match->name, sizeof match->name, "%s, against %s", a, b);
    if (same && match->a->nodes > 0)
        snprintf(match->name + length, sizeof match->name - (size_t)length, "; %lld nodes a move",
                 (long long)match->a->nodes);
}

static void follow(ReportMatch *match)
{
    size_t count = match->run->matches[match->of.index].count;
    size_t from = REPORT_STEPS_FROM < count ? REPORT_STEPS_FROM : count;
    size_t width = (count - from) / (REPORT_STEPS - 1) + 1;
    for (size_t pairs = from; pairs < count && match->step_count < REPORT_STEPS - 1; pairs += width)
        match->steps[match->step_count++] =
            (ReportStep){pairs, match_estimate_after(match->run, match->of.index, pairs)};
    match->steps[match->step_count++] = (ReportStep){count, match->summary.all.estimate};
}

static void make_match(ReportMatch *match, MatchOf of, const MatchSummary *summary,
                       const StratumWeights *weights)
{
    const StoredMatch *stored = &of.run->matches[of.index];
    *match = (ReportMatch){.of = of,
                           .run = of.run,
                           .a = &of.run->arms[stored->arm_a],
                           .b = &of.run->arms[stored->arm_b],
                           .summary = *summary,
                           .is_dose = match_is_dose(of)};
    if (weights != NULL)
        match->weighted = weighted_estimate(weights, summary);
    match_name(match);
    follow(match);
}

static bool is_better_main(const ReportMatch *match, const ReportMatch *than)
{
    if (than == NULL)
        return true;
    uint64_t pairs = match->summary.all.estimate.pairs, other = than->summary.all.estimate.pairs;
    if (pairs != other)
        return pairs > other;
    return abs(match->a->weight - 100) < abs(than->a->weight - 100);
}

static bool has_rule(const ReportMatch *match, ps_rule rule)
{
    return match->is_dose && strcmp(match->a->rule, ps_rule_name(rule)) == 0;
}

/* Strict first: the loose one must be like it. */
static void choose_main(Report *report)
{
    for (int rule = PS_STRICT; rule <= PS_LOOSE; rule++)
        for (int i = 0; i < report->match_count; i++) {
            const ReportMatch *match = &report->matches[i],
                              *strict = rule == PS_LOOSE ? report->main[PS_STRICT] : NULL;
            if (has_rule(match, rule) && is_better_main(match, report->main[rule]) &&
                (strict == NULL ||
                 (strict->a->weight == match->a->weight && strict->conditions == match->conditions)))
                report->main[rule] = match;
        }
}

static void number_conditions(Report *report)
{
    for (int i = 0; i < report->match_count; i++) {
        ReportMatch *match = &report->matches[i];
        match->conditions = -1;
        for (int k = 0; match->is_dose && k < i && match->conditions < 0; k++)
            if (report->matches[k].is_dose && matches_are_alike(match->of, report->matches[k].of))
                match->conditions = report->matches[k].conditions;
        if (match->is_dose && match->conditions < 0)
            match->conditions = report->conditions_count++;
    }
}

/* ------------------------------------------------------------------------------------------- shared games */

static bool same_arm(const StoredArm *a, const StoredArm *b)
{
    return a->weight == b->weight && (a->weight == 0 || strcmp(a->rule, b->rule) == 0);
}

/* Games by nodes alone are the same whenever they are played, and so are those whose time goes by nodes. */
static bool plays_by_nodes(const ReportMatch *match)
{
    const StoredRun *run = match->run;
    return stored_time(run, STORED_PACE) ||
           !(stored_time(run, STORED_MOVE_MS) || stored_time(run, STORED_CLOCK_MS));
}

static void share_pairs(ReportSharing *sharing, const ReportMatch *a, const ReportMatch *b)
{
    size_t shared = openings_shared(a->of, b->of);
    if (shared > sharing->openings)
        sharing->openings = shared;
    if (same_arm(a->a, b->a) && same_arm(a->b, b->b) && matches_are_alike(a->of, b->of) && plays_by_nodes(a))
        sharing->same_games += shared;
}

static void find_sharing(Report *report)
{
    for (int first = 0; first < report->run_count; first++)
        for (int second = first + 1; second < report->run_count; second++) {
            ReportSharing sharing = {first, second, 0, 0};
            for (int i = 0; i < report->match_count; i++)
                for (int k = 0; k < report->match_count; k++)
                    if (report->matches[i].run == &report->runs[first] &&
                        report->matches[k].run == &report->runs[second])
                        share_pairs(&sharing, &report->matches[i], &report->matches[k]);
            if (sharing.openings > 0)
                report->sharing[report->sharing_count++] = sharing;
        }
}

bool report_unfinished_text(const Report *report, int number, char text[REPORT_SENTENCE_SIZE])
{
    const StoredRun *run = &report->runs[number];
    const char *until = stored_setting(run, "until");
    size_t played = 0, planned = run->planned_pairs * (size_t)run->match_count;
    for (int i = 0; i < run->match_count; i++)
        played += run->matches[i].count;
    if (played >= planned || (until && strcmp(until, "pairs") != 0))
        return false;
    snprintf(text, REPORT_SENTENCE_SIZE,
             "Run %d is unfinished: it has %zu of %zu planned pairs, and what is missing may change what it "
             "shows.",
             number + 1, played, planned);
    return true;
}

void report_sharing_text(const ReportSharing *sharing, char text[REPORT_SENTENCE_SIZE])
{
    int length = snprintf(text, REPORT_SENTENCE_SIZE, "Runs %d and %d share %zu openings", sharing->first + 1,
                          sharing->second + 1, sharing->openings);
    if (sharing->same_games > 0)
        length += snprintf(text + length, REPORT_SENTENCE_SIZE - (size_t)length,
                           ", and %zu pairs are the very same games", sharing->same_games);
    snprintf(text + length, REPORT_SENTENCE_SIZE - (size_t)length,
             ": so neither of them confirms the other. A confirmation needs openings of its own (another "
             "--seed).");
}

/* ------------------------------------------------------------------------------------------- all of it */

static bool make_matches(Report *report)
{
    for (int i = 0; i < report->run_count; i++) {
        const StoredRun *run = &report->runs[i];
        MatchSummary *summaries = run_summarise(run, &report->questions);
        if (summaries == NULL || !run_trends(run, report->trends[i])) {
            free(summaries);
            return false;
        }
        for (int k = 0; k < run->match_count; k++)
            if (run->matches[k].count > 0)
                make_match(&report->matches[report->match_count++], (MatchOf){run, k}, &summaries[k],
                           report->weights);
        free(summaries);
    }
    return true;
}

static bool make_readings(Report *report)
{
    MatchOf *all = calloc((size_t)report->match_count + 1, sizeof *all);
    if (all == NULL)
        return false;
    for (int i = 0; i < report->match_count; i++)
        all[i] = report->matches[i].of;
    report->reading_count = reading_pairs(all, report->match_count, &report->readings);
    free(all);
    return report->reading_count >= 0;
}

bool report_make(Report *report, const StoredRun *runs, int run_count, const Questions *questions,
                 const StratumWeights *weights, const ReadContrast *contrasts, int contrast_count)
{
    size_t count = 0, runs_count = (size_t)run_count;
    *report = (Report){.run_count = run_count,
                       .runs = runs,
                       .questions = *questions,
                       .weights = weights,
                       .contrasts = contrasts,
                       .contrast_count = contrast_count};
    for (int i = 0; i < run_count; i++)
        count += (size_t)runs[i].match_count;
    report->matches = calloc(count + 1, sizeof *report->matches);
    report->trends = calloc(runs_count + 1, sizeof *report->trends);
    report->sharing = calloc(runs_count * runs_count + 1, sizeof *report->sharing);
    if (report->matches == NULL || report->trends == NULL || report->sharing == NULL ||
        !make_matches(report) || !make_readings(report))
        return false;
    number_conditions(report);
    choose_main(report);
    find_sharing(report);
    return true;
}

void report_free(Report *report)
{
    free(report->matches);
    free(report->trends);
    free(report->sharing);
    free(report->readings);
    *report = (Report){0};
}

/* ------------------------------------------------------------------------------------------- in words */

/* Adds to a text that has that length; returns the new one. */
__attribute__((format(printf, 4, 5))) static size_t append(char *text, size_t size, size_t length,
                                                           const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int added = length < size ? vsnprintf(text + length, size - length, format, arguments) : 0;
    va_end(arguments);
    return length + (size_t)added;
}

void report_conditions_text(const ReportMatch *match, char text[REPORT_NAME_SIZE])
{
    size_t length = 0;
    *text = '\0';
    if (match->a->nodes > 0)
        length = append(text, REPORT_NAME_SIZE, length, "%lld nodes a move; ", (long long)match->a->nodes);
    for (StoredTime time = 0; time < STORED_TIME_COUNT; time++) {
        const char *value = stored_time(match->run, time);
        if (value != NULL)
            length = append(text, REPORT_NAME_SIZE, length, "%s %s; ", stored_time_names[time], value);
    }
    if (*match->a->parameters != '\0')
        length = append(text, REPORT_NAME_SIZE, length, "%.60s; ", match->a->parameters);
    append(text, REPORT_NAME_SIZE, length, "%.80s", match->a->engine);
}

void report_test_text(const ReportMatch *match, char text[REPORT_SENTENCE_SIZE])
{
    const SequentialTest *test = &match->summary.test;
    const PairCounts *counts = &match->summary.all.counts;
    char elo[ELO_TEXT_SIZE];
    Verdict verdict = sequential_verdict(test, counts);
    size_t length = append(text, REPORT_SENTENCE_SIZE, 0, "The sequential test of %+g against %+g Elo ",
                           test->alternative_elo, test->null_elo);
    if (verdict == VERDICT_GO_ON)
        length = append(text, REPORT_SENTENCE_SIZE, length, "is undecided");
    else
        length = append(text, REPORT_SENTENCE_SIZE, length, "took %+g",
                        verdict == VERDICT_NULL ? test->null_elo : test->alternative_elo);
    append(text, REPORT_SENTENCE_SIZE, length,
           ". Without what stopping adds to it the estimate is %s Elo; the interval holds at every moment, "
           "and there is no "
           "P value",
           elo_text(elo_from_score(bias_adjusted_score(counts, test, match->run->planned_pairs)), elo));
}

static void say_effect(const ReportMatch *match, const Questions *questions, char *text, size_t size)
{
    static const char *const words[] = {
        [EFFECT_NONE] = "too few to tell anything",
        [EFFECT_OPEN] = "chance alone explains that, and so would any true value within the interval",
        [EFFECT_HELPED] = "more than chance explains, so what it does differently helped",
        [EFFECT_HARMED] = "more than chance explains, so what it does differently harmed",
    };
    double p = match->summary.all.p_equivalence;
    Effect effect = group_effect(&match->summary.all);
    size_t length = append(text, size, 0, "%s", words[effect]);
    if (!isnan(p) && effect != EFFECT_NONE)
        append(text, size, length,
               p < 0.05 ? "; by two one-sided tests (P %.3f) the two are equivalent within %g Elo either way"
                        : "; two one-sided tests (P %.3f) do not show the two to be equivalent within %g Elo "
                          "either way",
               p, questions->margin);
}

/* "A, B and C": the groups with that effect. Returns how many there are. */
static int list_groups(const ReportMatch *match, Effect effect, char *text, size_t size)
{
    int count = 0, listed = 0;
    size_t length = 0;
    *text = '\0';
    for (int i = 0; i < match->summary.stratum_count; i++)
        count += group_effect(&match->summary.strata[i]) == effect;
    for (int i = 0; i < match->summary.stratum_count; i++) {
        const GroupSummary *group = &match->summary.strata[i];
        char elo[ELO_TEXT_SIZE];
        if (group_effect(group) != effect)
            continue;
        const char *comma = listed == 0 ? "" : listed + 1 == count ? " and " : ", ";
        length =
            append(text, size, length, "%s%s (%s)", comma, group->name, elo_text(group->estimate.elo, elo));
        listed++;
    }
    return count;
}

static size_t say_strata(const ReportMatch *match, char *text, size_t size)
{
    char helped[REPORT_SENTENCE_SIZE / 4], harmed[REPORT_SENTENCE_SIZE / 4];
    int good = list_groups(match, EFFECT_HELPED, helped, sizeof helped);
    int bad = list_groups(match, EFFECT_HARMED, harmed, sizeof harmed);
    if (match->summary.stratum_count < 2)
        return append(text, size, 0, "All openings are of one kind, so nothing can be said by structure");
    if (match->summary.sequential)
        return append(text, size, 0, "A match that was stopped by what it showed says nothing by structure");
    if (good + bad == 0)
        return append(text, size, 0,
                      "In none of the %d kinds of structure does the effect stand out, allowing for the %d "
                      "tests of the run",
                      match->summary.stratum_count, match->summary.tests);
    return append(text, size, 0,
                  "By kind of structure, allowing for the %d tests of the run, it%s%s%s%s%s; elsewhere it "
                  "cannot be told",
                  match->summary.tests, good > 0 ? " helped in " : "", helped,
                  good > 0 && bad > 0 ? " and" : "", bad > 0 ? " harmed in " : "", harmed);
}

/* Strict against loose, if that was compared for this match. */
static size_t say_other_reading(const Report *report, const ReportMatch *strict, char *text, size_t size,
                                size_t length)
{
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    for (int i = 0; i < report->reading_count; i++) {
        const ReadingPair *pair = &report->readings[i];
        const Difference *d = &pair->difference;
        if (pair->strict.run == strict->run && pair->strict.index == strict->of.index && d->openings > 0)
            return append(text, size, length,
                          "; the strict reading less the loose one, its usual misapplication, at the same "
                          "weight makes %s "
                          "Elo (%s, P %.3f%s)",
                          elo_text(d->elo, elo), elo_interval_text(d->interval, interval), d->p_adjusted,
                          difference_is_finding(d) ? "" : ": not to be told from chance");
    }
    return length;
}

void report_finding(const Report *report, char first[REPORT_SENTENCE_SIZE], char second[REPORT_SENTENCE_SIZE])
{
    const ReportMatch *strict = report->main[PS_STRICT], *loose = report->main[PS_LOOSE];
    const ReportMatch *match = strict != NULL ? strict : loose != NULL ? loose : report->matches;
    if (report->match_count == 0) {
        snprintf(first, REPORT_SENTENCE_SIZE, "No pair of games has been finished.");
        snprintf(second, REPORT_SENTENCE_SIZE, "So nothing can be said yet.");
        return;
    }
    const MatchEstimate *e = &match->summary.all.estimate;
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE], effect[REPORT_SENTENCE_SIZE / 4];
    size_t length = 0;
    if (match->summary.sequential) {
        report_test_text(match, first);
        length = append(first, REPORT_SENTENCE_SIZE, strlen(first), ". ");
    }
    say_effect(match, &report->questions, effect, sizeof effect);
    append(first, REPORT_SENTENCE_SIZE, length,
           "Over %llu pairs of games, %s, the first way to play was worth %s Elo, with a 95 %% interval from "
           "%s: %s.",
           (unsigned long long)e->pairs, match->name, elo_text(e->elo, elo),
           elo_interval_text(e->elo_interval, interval), effect);
    length = say_strata(match, second, REPORT_SENTENCE_SIZE);
    if (strict != NULL)
        length = say_other_reading(report, strict, second, REPORT_SENTENCE_SIZE, length);
    append(second, REPORT_SENTENCE_SIZE, length, ".");
}

/* ---------------------------------------------------------------------------- the instructive positions */

int report_instructive(const Report *report, const ReadChange *changes[INSTRUCTIVE_MAX])
{
    int count = 0;
    for (int i = 0; i < report->contrast_count; i++)
        for (size_t k = 0; k < report->contrasts[i].change_count; k++) {
            const ReadChange *change = &report->contrasts[i].changes[k];
            int at = count;
            while (at > 0 && fabs(changes[at - 1]->win) < fabs(change->win))
                at--;
            if (!change->confirmed || at == INSTRUCTIVE_MAX)
                continue;
            if (count < INSTRUCTIVE_MAX)
                count++;
            for (int later = count - 1; later > at; later--)
                changes[later] = changes[later - 1];
            changes[at] = change;
        }
    return count;
}
