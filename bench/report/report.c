#include "bench/report/report.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double level = 0.05;

/* ------------------------------------------------------------------------------------------- the matches */

static bool same_but_for_the_term(const StoredArm *a, const StoredArm *b)
{
    return a->nodes == b->nodes && strcmp(a->parameters, b->parameters) == 0 &&
           strcmp(a->engine, b->engine) == 0;
}

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

static void follow(ReportMatch *match, int index)
{
    size_t count = match->run->matches[index].count;
    size_t from = REPORT_STEPS_FROM < count ? REPORT_STEPS_FROM : count;
    size_t width = (count - from) / (REPORT_STEPS - 1) + 1;
    for (size_t pairs = from; pairs < count && match->step_count < REPORT_STEPS - 1; pairs += width)
        match->steps[match->step_count++] =
            (ReportStep){pairs, match_summarise(match->run, index, pairs).all.estimate};
    match->steps[match->step_count++] = (ReportStep){count, match->summary.all.estimate};
}

static void make_match(ReportMatch *match, const StoredRun *run, int index)
{
    const StoredMatch *stored = &run->matches[index];
    *match = (ReportMatch){.run = run,
                           .a = &run->arms[stored->arm_a],
                           .b = &run->arms[stored->arm_b],
                           .summary = match_summarise(run, index, stored->count)};
    match->is_dose =
        match->b->weight == 0 && match->a->weight != 0 && same_but_for_the_term(match->a, match->b);
    match_name(match);
    follow(match, index);
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

static void choose_main(Report *report)
{
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        for (int rule = 0; rule < PS_RULE_COUNT; rule++)
            if (match->is_dose && strcmp(match->a->rule, ps_rule_name((ps_rule)rule)) == 0 &&
                is_better_main(match, report->main[rule]))
                report->main[rule] = match;
    }
}

bool report_make(Report *report, const StoredRun *runs, int run_count, const ReadContrast *contrasts,
                 int contrast_count)
{
    int count = 0;
    *report = (Report){.contrasts = contrasts, .contrast_count = contrast_count};
    for (int i = 0; i < run_count; i++)
        count += runs[i].match_count;
    report->matches = calloc((size_t)count + 1, sizeof *report->matches);
    if (report->matches == NULL)
        return false;
    for (int i = 0; i < run_count; i++)
        for (int k = 0; k < runs[i].match_count; k++)
            if (runs[i].matches[k].count > 0)
                make_match(&report->matches[report->match_count++], &runs[i], k);
    choose_main(report);
    return true;
}

void report_free(Report *report)
{
    free(report->matches);
    *report = (Report){0};
}

/* ------------------------------------------------------------------------------------------- the finding */

Effect report_effect(const GroupSummary *group)
{
    if (group->estimate.pairs < 2)
        return EFFECT_NONE;
    if (group->p_adjusted >= level)
        return EFFECT_OPEN;
    return group->estimate.score > 0.5 ? EFFECT_HELPED : EFFECT_HARMED;
}

static const char *const effect_words[] = {
    [EFFECT_NONE] = "too little to tell anything",
    [EFFECT_OPEN] = "nothing that could be told from chance",
    [EFFECT_HELPED] = "more than chance explains, so what it does differently helped",
    [EFFECT_HARMED] = "more than chance explains, so what it does differently harmed",
};

/* "A, B and C": the groups with that effect. Returns how many there are. */
static int list_groups(const ReportMatch *match, Effect effect, char *text, size_t size)
{
    int count = 0, listed = 0;
    size_t length = 0;
    *text = '\0';
    for (int i = 0; i < match->summary.stratum_count; i++)
        count += report_effect(&match->summary.strata[i]) == effect;
    for (int i = 0; i < match->summary.stratum_count && length < size; i++) {
        const GroupSummary *group = &match->summary.strata[i];
        if (report_effect(group) != effect)
            continue;
        const char *comma = listed == 0 ? "" : listed + 1 == count ? " and " : ", ";
        length += (size_t)snprintf(text + length, size - length, "%s%s (%+.1f)", comma, group->name,
                                   group->estimate.elo);
        listed++;
    }
    return count;
}

static void say_strata(const ReportMatch *match, char *text, size_t size)
{
    char helped[REPORT_SENTENCE_SIZE / 4], harmed[REPORT_SENTENCE_SIZE / 4];
    int good = list_groups(match, EFFECT_HELPED, helped, sizeof helped);
    int bad = list_groups(match, EFFECT_HARMED, harmed, sizeof harmed);
    if (match->summary.stratum_count < 2)
        snprintf(text, size, "All openings are of one kind, so nothing can be said by structure");
    else if (good + bad == 0)
        snprintf(text, size,
                 "In none of the %d kinds of structure does the effect stand out, allowing for so many being "
                 "looked at",
                 match->summary.stratum_count);
    else
        snprintf(text, size,
                 "By kind of structure, allowing for %d being looked at, it%s%s%s%s%s; elsewhere it cannot "
                 "be told",
                 match->summary.stratum_count, good > 0 ? " helped in " : "", helped,
                 good > 0 && bad > 0 ? " and" : "", bad > 0 ? " harmed in " : "", harmed);
}

static void say_other_reading(const ReportMatch *loose, char *text, size_t size)
{
    const MatchEstimate *e = &loose->summary.all.estimate;
    snprintf(text, size,
             "; applied as it is usually misapplied (loose), the rule is worth %+.1f Elo (%+.1f to %+.1f)",
             e->elo, e->elo_interval.low, e->elo_interval.high);
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
    const char *effect = effect_words[report_effect(&match->summary.all)];
    snprintf(first, REPORT_SENTENCE_SIZE,
             "Over %llu pairs of games, %s, the first way to play was worth %+.1f Elo, with a 95 %% interval "
             "from %+.1f to %+.1f: %s.",
             (unsigned long long)e->pairs, match->name, e->elo, e->elo_interval.low, e->elo_interval.high,
             effect);
    char strata[REPORT_SENTENCE_SIZE / 2 + 256], other[REPORT_SENTENCE_SIZE / 4] = "";
    say_strata(match, strata, sizeof strata);
    if (strict != NULL && loose != NULL)
        say_other_reading(loose, other, sizeof other);
    snprintf(second, REPORT_SENTENCE_SIZE, "%s%s.", strata, other);
}

/* ------------------------------------------------------------------------------- the instructive positions
 */

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
