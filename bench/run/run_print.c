#include "bench/run/run_print.h"
#include "bench/base/complaint.h"
#include "bench/base/csv.h"
#include "bench/base/json_line.h"
#include "bench/run/after_stop.h"
#include "bench/run/group_output.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static double games_an_hour(const RunCost *cost)
{
    return cost->seconds > 0 ? (double)cost->games / cost->seconds * 3600 : 0;
}

void cost_print(FILE *out, const RunCost *cost)
{
    fprintf(out, "%zu games in %.1f seconds, %.0f an hour.\n", cost->games, cost->seconds,
            games_an_hour(cost));
}

void cost_json(cJSON *object, const RunCost *cost)
{
    cJSON *timings = cJSON_AddObjectToObject(object, "timings");
    cJSON_AddNumberToObject(timings, "games", (double)cost->games);
    json_add_real(timings, "seconds", cost->seconds);
    json_add_real(timings, "games_an_hour", games_an_hour(cost));
}

void cost_csv(FILE *out, const RunCost *cost)
{
    fprintf(out, "\ngames,seconds,games_an_hour\n%zu,%.3f,%.1f\n", cost->games, cost->seconds,
            games_an_hour(cost));
}

static const char *verdict_name(Verdict verdict)
{
    static const char *const names[] = {"none yet", "null hypothesis", "alternative"};
    return names[verdict];
}

/* --------------------------------------------------------------------------------------------- for people */

enum { NAME_WIDTH = 16 };

static void print_head(FILE *out)
{
    fprintf(out, "%-*s %6s %6s %5s %5s %5s %5s  %7s %10s  %24s %7s\n", NAME_WIDTH, "A's points", "pairs", "0",
            "1/2", "1", "3/2", "2", "score", "Elo", "95 % interval", "P");
}

static void print_group(FILE *out, const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE] = "", p[16] = "";
    fprintf(out, "%-*s %6" PRIu64, NAME_WIDTH, group->name, e->pairs);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        fprintf(out, " %5" PRIu64, group->counts.n[i]);
    if (e->pairs == 0) {
        fputs("\n", out);
        return;
    }
    if (!isnan(e->elo_interval.low))
        elo_interval_text(e->elo_interval, interval);
    if (!isnan(group->p_adjusted))
        snprintf(p, sizeof p, "%.4f", group->p_adjusted);
    fprintf(out, " %6.2f%% %10s  %24s %7s%s\n", 100 * e->score, elo_text(e->elo, elo), interval, p,
            group_plays_alike(group) ? "  the arms played the same games" : "");
}

static void print_adjustment(FILE *out, const MatchSummary *summary)
{
    const Heterogeneity *h = &summary->heterogeneity;
    if (!summary->sequential && summary->tests > 1)
        fprintf(out, "P is adjusted for the %d tests of the run (Holm%s).\n", summary->tests,
                summary->stratum_count > 1 ? "; the strata have a fifth of the level" : "");
    if (summary->stratum_count < 2)
        return;
    if (h->degrees < 1)
        fprintf(out, "All alike? Too few strata have %d pairs that are not ties.\n", HETEROGENEITY_DECIDED);
    else
        fprintf(out, "All alike? Q %.2f on %.0f degrees, P %.4f; I² %.0f%%, an estimate%s.\n", h->q,
                h->degrees, h->p_value, 100 * h->i_squared,
                h->p_value < 0.05 ? "" : " that chance alone explains");
}

static void print_answers(FILE *out, const GroupSummary *group, const Questions *questions)
{
    if (isfinite(group->pairs_needed))
        fprintf(out, "To tell an effect of %g Elo from none takes %.0f pairs (5 %% level, power 80 %%).\n",
                questions->effect, group->pairs_needed);
    if (!isnan(group->p_equivalence))
        fprintf(out, "Equivalent within %g Elo either way? %s (two one-sided tests, P %.4f).\n",
                questions->margin, group->p_equivalence < 0.05 ? "Yes" : "That is not shown",
                group->p_equivalence);
}

static void print_test(FILE *out, const StoredRun *run, const MatchSummary *summary)
{
    const SequentialTest *test = &summary->test;
    const PairCounts *counts = &summary->all.counts;
    Interval bounds = sequential_bounds(test);
    Verdict verdict = sequential_verdict(test, counts);
    char elo[ELO_TEXT_SIZE];
    fprintf(out, "Sequential test of Elo %g against %g: ", test->alternative_elo, test->null_elo);
    if (verdict == VERDICT_GO_ON)
        fprintf(out, "undecided after %" PRIu64 " pairs.\n", pair_total(counts));
    else
        fprintf(out, "%g, after %" PRIu64 " pairs.\n",
                verdict == VERDICT_NULL ? test->null_elo : test->alternative_elo, pair_total(counts));
    fprintf(out,
            "Log likelihood ratio %.3f, bounds %.3f and %.3f. The interval below holds at every moment, and "
            "so after\n"
            "a stop (time-uniform); a P value, and intervals of strata, would not. Elo without what stopping "
            "adds to\n"
            "it: %s.\n\n",
            sequential_ratio(test, counts), bounds.low, bounds.high,
            elo_text(elo_from_score(bias_adjusted_score(counts, test, run->planned_pairs)), elo));
}

static void print_share(FILE *out, const ObedienceGroup *group, int arm)
{
    fprintf(out, " %5zu %5.1f%%", group->played[arm],
            100.0 * (double)group->played[arm] / (double)group->sides);
    if (isnan(group->plies[arm]))
        fprintf(out, " %6s", "");
    else
        fprintf(out, " %6g", group->plies[arm]);
}

static void print_obedience_group(FILE *out, const char *name, const ObedienceGroup *group)
{
    const ClusteredMean *d = &group->difference;
    char interval[48] = "", ratio[64] = "";
    if (group->sides == 0)
        return;
    if (!isnan(d->error))
        snprintf(interval, sizeof interval, "(%+.1f to %+.1f)", 100 * d->interval.low,
                 100 * d->interval.high);
    if (!isnan(group->ratio.interval.low))
        snprintf(ratio, sizeof ratio, "%.2f (%.2f to %.2f)", group->ratio.ratio, group->ratio.interval.low,
                 group->ratio.interval.high);
    fprintf(out, "%-*s %6zu ", NAME_WIDTH, name, group->sides);
    print_share(out, group, 0);
    print_share(out, group, 1);
    fprintf(out, "  %+6.1f %-18s  %s\n", 100 * d->mean, interval, ratio);
}

static void print_obedience(FILE *out, const MatchSummary *summary)
{
    if (summary->all.lever.sides + summary->levers[OBEDIENCE_MISLEADING].sides == 0)
        return;
    fprintf(out, "\n%-*s %6s  %12s %6s %12s %6s  %-25s  %s\n", NAME_WIDTH, "Lever played", "sides",
            "A played it", "plies", "B played it", "plies", "A less B, % (95 %)", "A by B (95 %)");
    print_obedience_group(out, "all", &summary->all.lever);
    if (summary->stratum_count > 1)
        for (int i = 0; i < summary->stratum_count; i++)
            print_obedience_group(out, summary->strata[i].name, &summary->strata[i].lever);
    for (int i = 0; i < (int)OBEDIENCE_KIND_COUNT; i++)
        print_obedience_group(out, obedience_kind_names[i], &summary->levers[i]);
    if (summary->levers[OBEDIENCE_UNASKED].sides > 0)
        fprintf(out, "%s\n", obedience_unasked_words);
    fputs("\n", out);
}

bool match_forfeit_text(const StoredRun *run, int number, Forfeit forfeit, char text[FORFEIT_TEXT_SIZE])
{
    static const char *const words[FORFEIT_COUNT] = {"on time", "by an illegal move",
                                                     "because the engine ended"};
    const size_t *lost = run->matches[number].lost[forfeit];
    snprintf(text, FORFEIT_TEXT_SIZE, "Lost %s: A %zu, B %zu games.", words[forfeit], lost[0], lost[1]);
    return lost[0] + lost[1] > 0 || (forfeit == FORFEIT_TIME && stored_time(run, STORED_CLOCK_MS));
}

void match_print(FILE *out, const StoredRun *run, int number, const MatchSummary *summary,
                 const Questions *questions)
{
    const StoredMatch *match = &run->matches[number];
    char text[ARM_TEXT_SIZE];
    stored_arm_text(&run->arms[match->arm_a], text);
    fprintf(out, "A  %s; %s\n", text, run->arms[match->arm_a].engine);
    stored_arm_text(&run->arms[match->arm_b], text);
    fprintf(out, "B  %s; %s\n\n", text, run->arms[match->arm_b].engine);
    if (summary->sequential)
        print_test(out, run, summary);
    print_head(out);
    print_group(out, &summary->all);
    if (summary->stratum_count > 1)
        for (int i = 0; i < summary->stratum_count; i++)
            print_group(out, &summary->strata[i]);
    print_adjustment(out, summary);
    print_obedience(out, summary);
    print_answers(out, &summary->all, questions);
    for (Forfeit i = 0; i < FORFEIT_COUNT; i++) {
        char line[FORFEIT_TEXT_SIZE];
        if (match_forfeit_text(run, number, i, line))
            fprintf(out, "%s\n", line);
    }
    if (match->count < run->planned_pairs)
        fprintf(out, "%zu of %zu planned pairs.\n", match->count, run->planned_pairs);
}

static void print_difference(FILE *out, const Difference *difference)
{
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    if (difference->openings == 0)
        fputs("too few openings\n", out);
    else
        fprintf(out, "%s Elo (%s), P %.4f, %zu openings%s\n", elo_text(difference->elo, elo),
                elo_interval_text(difference->interval, interval), difference->p_adjusted,
                difference->openings, difference->paired ? "" : " or more a side, not the same ones");
}

void trends_print(FILE *out, const Trend trends[PS_RULE_COUNT])
{
    int count = 0;
    for (int rule = 0; rule < PS_RULE_COUNT; rule++)
        count += trends[rule].doses >= 2;
    if (count == 0)
        return;
    fprintf(out, "\nTrend over the dose, for each 100 %% of weight, with 95 %% interval%s:\n",
            count > 1 ? "; P is adjusted for there being two (Holm)" : "");
    for (int rule = 0; rule < PS_RULE_COUNT; rule++) {
        if (trends[rule].doses < 2)
            continue;
        fprintf(out, "%-*s ", NAME_WIDTH, ps_rule_name(rule));
        print_difference(out, &trends[rule].slope);
    }
}

void reading_pairs_print(FILE *out, const ReadingPair *pairs, int count)
{
    if (count <= 0)
        return;
    fprintf(out, "\nStrict less loose at the same weight and conditions, with 95 %% interval%s:\n",
            count > 1 ? "; P is adjusted for all of them (Holm)" : "");
    for (int i = 0; i < count; i++) {
        const StoredRun *run = pairs[i].strict.run;
        const StoredArm *arm = &run->arms[run->matches[pairs[i].strict.index].arm_a];
        char name[64];
        snprintf(name, sizeof name, "weight %d", arm->weight);
        fprintf(out, "%-*s ", NAME_WIDTH, name);
        print_difference(out, &pairs[i].difference);
    }
}

/* The limits of time that all arms have; those of nodes stand with the arms. */
static void print_time(FILE *out, const StoredRun *run)
{
    for (StoredTime time = 0; time < STORED_TIME_COUNT; time++) {
        const char *value = stored_time(run, time);
        if (value)
            fprintf(out, "%s: %s\n", stored_time_names[time], value);
    }
}

/* All that is worked out of a run. */
typedef struct RunNumbers {
    const StoredRun *run;
    const Questions *questions;
    MatchSummary *summaries;
    Trend trends[PS_RULE_COUNT];
    ReadingPair *readings;
    int reading_count;
} RunNumbers;

static void numbers_free(RunNumbers *numbers)
{
    free(numbers->summaries);
    free(numbers->readings);
}

static bool numbers_make(RunNumbers *numbers, const StoredRun *run, const Questions *questions)
{
    MatchOf matches[MATCHES_MAX];
    for (int i = 0; i < run->match_count; i++)
        matches[i] = (MatchOf){run, i};
    *numbers = (RunNumbers){.run = run, .questions = questions, .summaries = run_summarise(run, questions)};
    numbers->reading_count = reading_pairs(matches, run->match_count, &numbers->readings);
    return numbers->summaries && numbers->reading_count >= 0 && run_trends(run, numbers->trends);
}

static void print_text(FILE *out, const RunNumbers *numbers, const RunCost *cost)
{
    print_time(out, numbers->run);
    for (int i = 0; i < numbers->run->match_count; i++) {
        if (i > 0)
            fputs("\n", out);
        match_print(out, numbers->run, i, &numbers->summaries[i], numbers->questions);
    }
    trends_print(out, numbers->trends);
    reading_pairs_print(out, numbers->readings, numbers->reading_count);
    if (cost)
        cost_print(out, cost);
}

/* --------------------------------------------------------------------------------------------------- JSON */

static cJSON *json_test(const StoredRun *run, const SequentialTest *test, const PairCounts *counts)
{
    cJSON *object = cJSON_CreateObject();
    Interval bounds = sequential_bounds(test);
    json_add_real(object, "log_likelihood_ratio", sequential_ratio(test, counts));
    json_add_real(object, "low", bounds.low);
    json_add_real(object, "high", bounds.high);
    cJSON_AddStringToObject(object, "verdict", verdict_name(sequential_verdict(test, counts)));
    json_add_real(object, "elo_adjusted",
                  elo_from_score(bias_adjusted_score(counts, test, run->planned_pairs)));
    return object;
}

static const char *interval_name(const MatchSummary *summary)
{
    return summary->sequential                               ? "time-uniform"
           : summary->all.estimate.decided < BOUNDED_DECIDED ? "bounded mean"
                                                             : "Student's t";
}

static cJSON *json_match(const RunNumbers *numbers, int number)
{
    const StoredMatch *match = &numbers->run->matches[number];
    const MatchSummary *summary = &numbers->summaries[number];
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "arm_a", match->arm_a);
    cJSON_AddNumberToObject(object, "arm_b", match->arm_b);
    cJSON_AddNumberToObject(object, "pairs_planned", (double)numbers->run->planned_pairs);
    cJSON_AddStringToObject(object, "interval", interval_name(summary));
    cJSON_AddNumberToObject(object, "lost_on_time",
                            (double)(match->lost[FORFEIT_TIME][0] + match->lost[FORFEIT_TIME][1]));
    json_add_forfeits(object, match);
    json_add_groups(object, summary);
    if (summary->sequential)
        cJSON_AddItemToObject(object, "sequential_test",
                              json_test(numbers->run, &summary->test, &summary->all.counts));
    return object;
}

static void add_comparisons(cJSON *object, const RunNumbers *numbers)
{
    cJSON *trends = cJSON_AddArrayToObject(object, "trends_per_100_percent");
    for (int rule = 0; rule < PS_RULE_COUNT; rule++) {
        if (numbers->trends[rule].doses < 2)
            continue;
        cJSON *trend = cJSON_CreateObject();
        cJSON_AddStringToObject(trend, "rule", ps_rule_name(rule));
        cJSON_AddNumberToObject(trend, "doses", numbers->trends[rule].doses);
        json_add_difference(trend, &numbers->trends[rule].slope);
        cJSON_AddItemToArray(trends, trend);
    }
    cJSON *readings = cJSON_AddArrayToObject(object, "strict_less_loose");
    for (int i = 0; i < numbers->reading_count; i++) {
        const ReadingPair *pair = &numbers->readings[i];
        cJSON *reading = cJSON_CreateObject();
        cJSON_AddNumberToObject(reading, "strict_match", pair->strict.index);
        cJSON_AddNumberToObject(reading, "loose_match", pair->loose.index);
        json_add_difference(reading, &pair->difference);
        cJSON_AddItemToArray(readings, reading);
    }
}

void settings_json(cJSON *object, const StoredRun *run)
{
    cJSON *settings = cJSON_AddObjectToObject(object, "settings");
    for (int i = 0; i < run->setting_count; i++)
        cJSON_AddStringToObject(settings, run->settings[i].name, run->settings[i].value);
}

static bool print_json(FILE *out, const RunNumbers *numbers, const RunCost *cost)
{
    const StoredRun *run = numbers->run;
    cJSON *object = cJSON_CreateObject();
    settings_json(object, run);
    if (numbers->questions->effect > 0)
        json_add_real(object, "effect", numbers->questions->effect);
    if (numbers->questions->margin > 0)
        json_add_real(object, "margin", numbers->questions->margin);
    cJSON *arms = cJSON_AddArrayToObject(object, "arms");
    for (int i = 0; i < run->arm_count; i++)
        cJSON_AddItemToArray(arms, json_arm(&run->arms[i]));
    cJSON *matches = cJSON_AddArrayToObject(object, "matches");
    for (int i = 0; i < run->match_count; i++)
        cJSON_AddItemToArray(matches, json_match(numbers, i));
    add_comparisons(object, numbers);
    if (cost)
        cost_json(object, cost);
    return json_print_line(out, object);
}

/* ---------------------------------------------------------------------------------------------------- CSV */

static void csv_arm(FILE *out, const StoredArm *arm)
{
    fprintf(out, ",%d,%s,%" PRId64 ",", arm->weight, arm->rule, arm->nodes);
    csv_text(out, arm->parameters);
}

static void csv_row(FILE *out, const StoredRun *run, int number, const GroupSummary *group)
{
    const StoredMatch *match = &run->matches[number];
    fprintf(out, "%d", number);
    csv_arm(out, &run->arms[match->arm_a]);
    csv_arm(out, &run->arms[match->arm_b]);
    fputc(',', out);
    csv_group(out, group);
    fputc('\n', out);
}

static void print_csv(FILE *out, const RunNumbers *numbers, const RunCost *cost)
{
    fprintf(out, "match,a_weight,a_rule,a_nodes,a_parameters,b_weight,b_rule,b_nodes,b_parameters,%s\n",
            csv_group_columns);
    for (int i = 0; i < numbers->run->match_count; i++) {
        csv_row(out, numbers->run, i, &numbers->summaries[i].all);
        for (int j = 0; j < numbers->summaries[i].stratum_count; j++)
            csv_row(out, numbers->run, i, &numbers->summaries[i].strata[j]);
    }
    if (cost)
        cost_csv(out, cost);
}

bool run_print(FILE *out, const StoredRun *run, RunFormat format, const Questions *questions,
               const RunCost *cost)
{
    RunNumbers numbers;
    bool good = numbers_make(&numbers, run, questions);
    if (!good)
        complain(NULL, 0, "memory ran out");
    else if (format == RUN_AS_JSON)
        good = print_json(out, &numbers, cost);
    else if (format == RUN_AS_CSV)
        print_csv(out, &numbers, cost);
    else
        print_text(out, &numbers, cost);
    numbers_free(&numbers);
    return good;
}
