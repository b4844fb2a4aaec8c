#include "bench/report/report_output.h"

#include "bench/base/csv.h"
#include "bench/run/run_print.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Rounded, so that a last digit that depends on the machine does not show. */
static void add_number(cJSON *object, const char *key, double value, double unit)
{
    cJSON_AddItemToObject(
        object, key, isfinite(value) ? cJSON_CreateNumber(round(value / unit) * unit) : cJSON_CreateNull());
}

static const char *const effect_names[] = {[EFFECT_NONE] = "too few",
                                           [EFFECT_OPEN] = "open",
                                           [EFFECT_HELPED] = "helped",
                                           [EFFECT_HARMED] = "harmed"};

static cJSON *group_object(const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "pairs", (double)e->pairs);
    cJSON *outcomes = cJSON_AddArrayToObject(object, "outcomes");
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        cJSON_AddItemToArray(outcomes, cJSON_CreateNumber((double)group->counts.n[i]));
    add_number(object, "score", e->score, 1e-5);
    add_number(object, "score_low", e->score_interval.low, 1e-5);
    add_number(object, "score_high", e->score_interval.high, 1e-5);
    add_number(object, "elo", e->elo, 0.01);
    add_number(object, "elo_low", e->elo_interval.low, 0.01);
    add_number(object, "elo_high", e->elo_interval.high, 0.01);
    add_number(object, "superiority", 1 - e->p_upper, 1e-5);
    add_number(object, "p", e->p_value, 1e-5);
    add_number(object, "p_one_sided", e->p_upper, 1e-5);
    add_number(object, "p_holm", group->p_adjusted, 1e-5);
    add_number(object, "p_equivalence", group->p_equivalence, 1e-5);
    cJSON_AddNumberToObject(object, "pairs_with_same_games", (double)group->same_games);
    cJSON_AddStringToObject(object, "effect", effect_names[group_effect(group)]);
    return object;
}

static cJSON *arm_object(const StoredArm *arm)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "weight", arm->weight);
    cJSON_AddStringToObject(object, "rule", arm->rule);
    cJSON_AddNumberToObject(object, "nodes", (double)arm->nodes);
    cJSON_AddStringToObject(object, "parameters", arm->parameters);
    return object;
}

static void add_test(cJSON *object, const ReportMatch *match)
{
    char text[REPORT_SENTENCE_SIZE];
    report_test_text(match, text);
    cJSON_AddStringToObject(object, "sequential_test", text);
}

static void add_weighted(cJSON *object, const WeightedEstimate *estimate)
{
    cJSON *weighted = cJSON_AddObjectToObject(object, "weighted");
    add_number(weighted, "covered", estimate->covered, 1e-5);
    add_number(weighted, "score", estimate->score, 1e-5);
    add_number(weighted, "elo", estimate->elo, 0.01);
    add_number(weighted, "elo_low", estimate->elo_interval.low, 0.01);
    add_number(weighted, "elo_high", estimate->elo_interval.high, 0.01);
}

static cJSON *match_object(const Report *report, const ReportMatch *match)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "name", match->name);
    cJSON_AddItemToObject(object, "arm_a", arm_object(match->a));
    cJSON_AddItemToObject(object, "arm_b", arm_object(match->b));
    cJSON_AddItemToObject(object, "all", group_object(&match->summary.all));
    cJSON *strata = cJSON_AddObjectToObject(object, "strata");
    for (int i = 0; i < match->summary.stratum_count; i++)
        cJSON_AddItemToObject(strata, match->summary.strata[i].name, group_object(&match->summary.strata[i]));
    cJSON *heterogeneity = cJSON_AddObjectToObject(object, "heterogeneity");
    add_number(heterogeneity, "q", match->summary.heterogeneity.q, 1e-4);
    add_number(heterogeneity, "degrees", match->summary.heterogeneity.degrees, 1);
    add_number(heterogeneity, "p", match->summary.heterogeneity.p_value, 1e-5);
    add_number(heterogeneity, "i_squared", match->summary.heterogeneity.i_squared, 1e-4);
    add_number(object, "pairs_needed", match->summary.all.pairs_needed, 1);
    cJSON_AddNumberToObject(object, "run", (double)(match->run - report->runs + 1));
    cJSON_AddNumberToObject(object, "conditions", match->conditions);
    if (match->summary.sequential)
        add_test(object, match);
    if (report->weights != NULL)
        add_weighted(object, &match->weighted);
    return object;
}

static cJSON *difference_object(const Difference *difference)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "openings", (double)difference->openings);
    cJSON_AddBoolToObject(object, "paired", difference->paired);
    add_number(object, "elo", difference->elo, 0.01);
    add_number(object, "elo_low", difference->interval.low, 0.01);
    add_number(object, "elo_high", difference->interval.high, 0.01);
    add_number(object, "p", difference->p_value, 1e-5);
    add_number(object, "p_holm", difference->p_adjusted, 1e-5);
    return object;
}

static void add_trends(cJSON *object, const Report *report)
{
    cJSON *trends = cJSON_AddArrayToObject(object, "trends_per_100_percent");
    for (int i = 0; i < report->run_count; i++)
        for (int rule = PS_STRICT; rule <= PS_LOOSE; rule++) {
            if (report->trends[i][rule].doses < 2)
                continue;
            cJSON *trend = difference_object(&report->trends[i][rule].slope);
            cJSON_AddNumberToObject(trend, "run", i + 1);
            cJSON_AddStringToObject(trend, "rule", ps_rule_name((ps_rule)rule));
            cJSON_AddItemToArray(trends, trend);
        }
}

static void add_readings(cJSON *object, const Report *report)
{
    cJSON *readings = cJSON_AddArrayToObject(object, "strict_less_loose");
    for (int i = 0; i < report->reading_count; i++) {
        const ReadingPair *pair = &report->readings[i];
        const StoredRun *run = pair->strict.run;
        cJSON *reading = difference_object(&pair->difference);
        cJSON_AddNumberToObject(reading, "weight", run->arms[run->matches[pair->strict.index].arm_a].weight);
        cJSON_AddNumberToObject(reading, "strict_run", (double)(run - report->runs + 1));
        cJSON_AddNumberToObject(reading, "loose_run", (double)(pair->loose.run - report->runs + 1));
        cJSON_AddItemToArray(readings, reading);
    }
}

static void add_sharing(cJSON *object, const Report *report)
{
    cJSON *all = cJSON_AddArrayToObject(object, "shared_openings");
    for (int i = 0; i < report->sharing_count; i++) {
        cJSON *sharing = cJSON_CreateObject();
        cJSON_AddNumberToObject(sharing, "first_run", report->sharing[i].first + 1);
        cJSON_AddNumberToObject(sharing, "second_run", report->sharing[i].second + 1);
        cJSON_AddNumberToObject(sharing, "openings", (double)report->sharing[i].openings);
        cJSON_AddNumberToObject(sharing, "same_games", (double)report->sharing[i].same_games);
        cJSON_AddItemToArray(all, sharing);
    }
}

bool report_write_json(FILE *out, const Report *report)
{
    char sentences[2][REPORT_SENTENCE_SIZE];
    cJSON *object = cJSON_CreateObject();
    report_finding(report, sentences[0], sentences[1]);
    cJSON *finding = cJSON_AddArrayToObject(object, "finding");
    for (int i = 0; i < 2; i++)
        cJSON_AddItemToArray(finding, cJSON_CreateString(sentences[i]));
    cJSON *matches = cJSON_AddArrayToObject(object, "matches");
    for (int i = 0; i < report->match_count; i++)
        cJSON_AddItemToArray(matches, match_object(report, &report->matches[i]));
    add_trends(object, report);
    add_readings(object, report);
    add_sharing(object, report);
    char *text = cJSON_Print(object);
    cJSON_Delete(object);
    if (text == NULL)
        return false;
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return true;
}

static void csv_row(FILE *out, const ReportMatch *match, const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    csv_text(out, match->name);
    fputc(',', out);
    csv_text(out, group->name);
    fprintf(out, ",%llu", (unsigned long long)e->pairs);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        fprintf(out, ",%llu", (unsigned long long)group->counts.n[i]);
    const double numbers[] = {e->score,
                              e->score_interval.low,
                              e->score_interval.high,
                              e->elo,
                              e->elo_interval.low,
                              e->elo_interval.high,
                              1 - e->p_upper,
                              e->p_value,
                              group->p_adjusted,
                              e->p_upper,
                              group->p_equivalence};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        isfinite(numbers[i]) ? fprintf(out, ",%.5f", numbers[i]) : fputc(',', out);
    fprintf(out, ",%llu\n", (unsigned long long)group->same_games);
}

void report_write_csv(FILE *out, const Report *report)
{
    fputs("match,stratum,pairs,points_0,points_half,points_1,points_3_halves,points_2,score,score_low,score_"
          "high,elo,elo_low,elo_high,superiority,p,p_holm,p_one_sided,p_equivalence,pairs_with_same_games\n",
          out);
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        csv_row(out, match, &match->summary.all);
        for (int k = 0; k < match->summary.stratum_count; k++)
            csv_row(out, match, &match->summary.strata[k]);
    }
}

static void print_weighted(FILE *out, const ReportMatch *match)
{
    const WeightedEstimate *w = &match->weighted;
    char elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    if (w->covered > 0)
        fprintf(out, "Weighted by how often the strata occur (%.0f%% of the weights): %s Elo (%s).\n",
                100 * w->covered, elo_text(w->elo, elo), elo_interval_text(w->elo_interval, interval));
}

void report_write_text(FILE *out, const Report *report)
{
    char first[REPORT_SENTENCE_SIZE], second[REPORT_SENTENCE_SIZE];
    report_finding(report, first, second);
    fprintf(out, "%s %s\n", first, second);
    for (int i = 0; i < report->sharing_count; i++) {
        report_sharing_text(&report->sharing[i], first);
        fprintf(out, "%s\n", first);
    }
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        char conditions[REPORT_NAME_SIZE];
        report_conditions_text(match, conditions);
        fprintf(out, "\nRun %d: %s\n", (int)(match->run - report->runs) + 1, conditions);
        match_print(out, match->run, match->of.index, &match->summary, &report->questions);
        if (report->weights != NULL)
            print_weighted(out, match);
    }
    for (int i = 0; i < report->run_count; i++)
        trends_print(out, report->trends[i]);
    reading_pairs_print(out, report->readings, report->reading_count);
}
