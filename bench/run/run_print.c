#include "bench/run/run_print.h"
#include "bench/base/csv.h"
#include "bench/base/json_line.h"

#include <cjson/cJSON.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static double games_an_hour(const RunCost *cost)
{
    return cost->seconds > 0 ? (double)cost->games / cost->seconds * 3600 : 0;
}

/* The test that the run was to be stopped by. False if it was none. */
static bool stored_test(const StoredRun *run, SequentialTest *test)
{
    const char *until = stored_setting(run, "until");
    if (!until || strcmp(until, "sprt") != 0)
        return false;
    const char *names[] = {"until null, Elo", "until alternative, Elo", "until alpha", "until beta"};
    double *values[] = {&test->elo0, &test->elo1, &test->alpha, &test->beta};
    for (int i = 0; i < 4; i++) {
        const char *text = stored_setting(run, names[i]);
        if (!text)
            return false;
        *values[i] = strtod(text, NULL);
    }
    return true;
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
    fprintf(out, "%-*s %6s %6s %5s %5s %5s %5s  %7s %7s  %17s %9s %7s\n", NAME_WIDTH, "A's points", "pairs",
            "0", "1/2", "1", "3/2", "2", "score", "Elo", "95 % interval", "A better", "P");
}

static void print_group(FILE *out, const GroupSummary *group, bool adjusted)
{
    const MatchEstimate *e = &group->estimate;
    char interval[48] = "";
    fprintf(out, "%-*s %6" PRIu64, NAME_WIDTH, group->name, e->pairs);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        fprintf(out, " %5" PRIu64, group->counts.n[i]);
    if (e->pairs < 2) {
        fputs("\n", out);
        return;
    }
    snprintf(interval, sizeof interval, "%+.1f to %+.1f", e->elo_interval.low, e->elo_interval.high);
    fprintf(out, " %6.2f%% %+7.1f  %17s %8.1f%% %7.4f\n", 100 * e->score, e->elo, interval,
            100 * e->superiority, adjusted ? group->p_adjusted : e->p_value);
}

static void print_needed(FILE *out, const GroupSummary *group)
{
    if (isfinite(group->pairs_needed))
        fprintf(out, "An effect of this size takes %.0f pairs to tell from none (5 %% level, power 80 %%).\n",
                group->pairs_needed);
}

static void print_test(FILE *out, const StoredRun *run, const PairCounts *counts)
{
    SequentialTest test;
    if (!stored_test(run, &test))
        return;
    Interval bounds = sequential_bounds(&test);
    fprintf(out,
            "Sequential test of Elo %g against %g: log likelihood ratio %.3f, bounds %.3f and %.3f: %s.\n",
            test.elo1, test.elo0, sequential_ratio(&test, counts), bounds.low, bounds.high,
            verdict_name(sequential_verdict(&test, counts)));
}

static bool has_clock(const StoredRun *run)
{
    const char *clock = stored_setting(run, "clock, milliseconds");
    return clock && strcmp(clock, "0") != 0;
}

static void print_match(FILE *out, const StoredRun *run, int number)
{
    const StoredMatch *match = &run->matches[number];
    MatchSummary summary = match_summarise(run, number, SIZE_MAX);
    char text[ARM_TEXT_SIZE];
    stored_arm_text(&run->arms[match->arm_a], text);
    fprintf(out, "%sA  %s; %s\n", number > 0 ? "\n" : "", text, run->arms[match->arm_a].engine);
    stored_arm_text(&run->arms[match->arm_b], text);
    fprintf(out, "B  %s; %s\n\n", text, run->arms[match->arm_b].engine);
    print_head(out);
    print_group(out, &summary.all, false);
    if (run->stratum_count > 1) {
        for (int i = 0; i < summary.stratum_count; i++)
            print_group(out, &summary.strata[i], true);
        fprintf(out,
                "P of a stratum is adjusted for there being %d (Holm). All alike? Q %.2f on %.0f degrees, P "
                "%.4f, I² %.0f%%.\n",
                summary.stratum_count, summary.heterogeneity.q, summary.heterogeneity.degrees,
                summary.heterogeneity.p_value, 100 * summary.heterogeneity.i_squared);
    }
    print_needed(out, &summary.all);
    print_test(out, run, &summary.all.counts);
    if (has_clock(run))
        fprintf(out, "Lost on time: %zu games.\n", match->lost_on_time);
    if (match->count < run->planned_pairs)
        fprintf(out, "%zu of %zu planned pairs.\n", match->count, run->planned_pairs);
}

/* The limits of time that all arms have; those of nodes stand with the arms. */
static void print_time(FILE *out, const StoredRun *run)
{
    static const char *const names[] = {"milliseconds a move", "clock, milliseconds",
                                        "increment, milliseconds"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *value = stored_setting(run, names[i]);
        if (value && strcmp(value, "0") != 0)
            fprintf(out, "%s: %s\n", names[i], value);
    }
}

static void print_text(FILE *out, const StoredRun *run, const RunCost *cost)
{
    print_time(out, run);
    for (int i = 0; i < run->match_count; i++)
        print_match(out, run, i);
    if (cost)
        fprintf(out, "%zu games in %.1f seconds, %.0f an hour.\n", cost->games, cost->seconds,
                games_an_hour(cost));
}

/* --------------------------------------------------------------------------------------------------- JSON */

/* Numbers are rounded, so that the last bits of a processor's logarithm do not show; what is not finite is
 * null. */
static void add_real(cJSON *object, const char *name, double value)
{
    if (isfinite(value))
        cJSON_AddNumberToObject(object, name, round(value * 1e6) / 1e6);
    else
        cJSON_AddNullToObject(object, name);
}

static cJSON *json_group(const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "name", group->name);
    cJSON_AddNumberToObject(object, "pairs", (double)e->pairs);
    cJSON *counts = cJSON_AddArrayToObject(object, "pairs_by_half_points");
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        cJSON_AddItemToArray(counts, cJSON_CreateNumber((double)group->counts.n[i]));
    add_real(object, "score", e->score);
    add_real(object, "score_low", e->score_interval.low);
    add_real(object, "score_high", e->score_interval.high);
    add_real(object, "elo", e->elo);
    add_real(object, "elo_low", e->elo_interval.low);
    add_real(object, "elo_high", e->elo_interval.high);
    add_real(object, "superiority", e->superiority);
    add_real(object, "p", e->p_value);
    add_real(object, "p_adjusted", group->p_adjusted);
    add_real(object, "pairs_needed", group->pairs_needed);
    return object;
}

static cJSON *json_test(const SequentialTest *test, const PairCounts *counts)
{
    cJSON *object = cJSON_CreateObject();
    Interval bounds = sequential_bounds(test);
    add_real(object, "log_likelihood_ratio", sequential_ratio(test, counts));
    add_real(object, "low", bounds.low);
    add_real(object, "high", bounds.high);
    cJSON_AddStringToObject(object, "verdict", verdict_name(sequential_verdict(test, counts)));
    return object;
}

static cJSON *json_match(const StoredRun *run, int number)
{
    const StoredMatch *match = &run->matches[number];
    MatchSummary summary = match_summarise(run, number, SIZE_MAX);
    SequentialTest test;
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "arm_a", match->arm_a);
    cJSON_AddNumberToObject(object, "arm_b", match->arm_b);
    cJSON_AddNumberToObject(object, "pairs_planned", (double)run->planned_pairs);
    cJSON_AddItemToObject(object, "all", json_group(&summary.all));
    cJSON_AddNumberToObject(object, "lost_on_time", (double)match->lost_on_time);
    cJSON *strata = cJSON_AddArrayToObject(object, "strata");
    for (int i = 0; i < summary.stratum_count; i++)
        cJSON_AddItemToArray(strata, json_group(&summary.strata[i]));
    cJSON *heterogeneity = cJSON_AddObjectToObject(object, "heterogeneity");
    add_real(heterogeneity, "q", summary.heterogeneity.q);
    add_real(heterogeneity, "degrees", summary.heterogeneity.degrees);
    add_real(heterogeneity, "p", summary.heterogeneity.p_value);
    add_real(heterogeneity, "i_squared", summary.heterogeneity.i_squared);
    if (stored_test(run, &test))
        cJSON_AddItemToObject(object, "sequential_test", json_test(&test, &summary.all.counts));
    return object;
}

static cJSON *json_arm(const StoredArm *arm)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "weight", arm->weight);
    cJSON_AddStringToObject(object, "rule", arm->rule);
    cJSON_AddNumberToObject(object, "nodes", (double)arm->nodes);
    cJSON_AddStringToObject(object, "parameters", arm->parameters);
    cJSON_AddStringToObject(object, "engine", arm->engine);
    return object;
}

static bool print_json(FILE *out, const StoredRun *run, const RunCost *cost)
{
    cJSON *object = cJSON_CreateObject();
    cJSON *settings = cJSON_AddObjectToObject(object, "settings");
    for (int i = 0; i < run->setting_count; i++)
        cJSON_AddStringToObject(settings, run->settings[i].name, run->settings[i].value);
    cJSON *arms = cJSON_AddArrayToObject(object, "arms");
    for (int i = 0; i < run->arm_count; i++)
        cJSON_AddItemToArray(arms, json_arm(&run->arms[i]));
    cJSON *matches = cJSON_AddArrayToObject(object, "matches");
    for (int i = 0; i < run->match_count; i++)
        cJSON_AddItemToArray(matches, json_match(run, i));
    if (cost) {
        cJSON *timings = cJSON_AddObjectToObject(object, "timings");
        cJSON_AddNumberToObject(timings, "games", (double)cost->games);
        add_real(timings, "seconds", cost->seconds);
        add_real(timings, "games_an_hour", games_an_hour(cost));
    }
    return json_print_line(out, object);
}

/* ---------------------------------------------------------------------------------------------------- CSV */

static void csv_real(FILE *out, double value)
{
    if (isfinite(value))
        fprintf(out, ",%.6f", value);
    else
        fputc(',', out);
}

static void csv_arm(FILE *out, const StoredArm *arm)
{
    fprintf(out, ",%d,%s,%" PRId64 ",", arm->weight, arm->rule, arm->nodes);
    csv_text(out, arm->parameters);
}

static void csv_group(FILE *out, const StoredRun *run, int number, const GroupSummary *group)
{
    const StoredMatch *match = &run->matches[number];
    const MatchEstimate *e = &group->estimate;
    fprintf(out, "%d", number);
    csv_arm(out, &run->arms[match->arm_a]);
    csv_arm(out, &run->arms[match->arm_b]);
    fputc(',', out);
    csv_text(out, group->name);
    fprintf(out, ",%" PRIu64, e->pairs);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        fprintf(out, ",%" PRIu64, group->counts.n[i]);
    double values[] = {e->score,
                       e->score_interval.low,
                       e->score_interval.high,
                       e->elo,
                       e->elo_interval.low,
                       e->elo_interval.high,
                       e->superiority,
                       e->p_value,
                       group->p_adjusted,
                       group->pairs_needed};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        csv_real(out, values[i]);
    fputc('\n', out);
}

static void print_csv(FILE *out, const StoredRun *run, const RunCost *cost)
{
    fputs("match,a_weight,a_rule,a_nodes,a_parameters,b_weight,b_rule,b_nodes,b_parameters,stratum,pairs,"
          "points_0,points_half,points_1,points_1_and_half,points_2,score,score_low,score_high,elo,elo_low,"
          "elo_high,"
          "superiority,p,p_adjusted,pairs_needed\n",
          out);
    for (int i = 0; i < run->match_count; i++) {
        MatchSummary summary = match_summarise(run, i, SIZE_MAX);
        csv_group(out, run, i, &summary.all);
        for (int j = 0; j < summary.stratum_count; j++)
            csv_group(out, run, i, &summary.strata[j]);
    }
    if (cost)
        fprintf(out, "\ngames,seconds,games_an_hour\n%zu,%.3f,%.1f\n", cost->games, cost->seconds,
                games_an_hour(cost));
}

bool run_print(FILE *out, const StoredRun *run, RunFormat format, const RunCost *cost)
{
    if (format == RUN_AS_JSON)
        return print_json(out, run, cost);
    if (format == RUN_AS_CSV)
        print_csv(out, run, cost);
    else
        print_text(out, run, cost);
    return true;
}
