#include "bench/report/report_output.h"

#include "bench/base/csv.h"
#include "bench/base/json_line.h"
#include "bench/run/group_output.h"
#include "bench/run/run_print.h"

#include <cjson/cJSON.h>

static void add_test(cJSON *object, const ReportMatch *match)
{
    char text[REPORT_SENTENCE_SIZE];
    report_test_text(match, text);
    cJSON_AddStringToObject(object, "sequential_test", text);
}

static void add_weighted(cJSON *object, const WeightedEstimate *estimate)
{
    cJSON *weighted = cJSON_AddObjectToObject(object, "weighted");
    json_add_real(weighted, "covered", estimate->covered);
    json_add_real(weighted, "score", estimate->score);
    json_add_real(weighted, "elo", estimate->elo);
    json_add_real(weighted, "elo_low", estimate->elo_interval.low);
    json_add_real(weighted, "elo_high", estimate->elo_interval.high);
}

static cJSON *match_object(const Report *report, const ReportMatch *match)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "name", match->name);
    cJSON_AddItemToObject(object, "arm_a", json_arm(match->a));
    cJSON_AddItemToObject(object, "arm_b", json_arm(match->b));
    json_add_groups(object, &match->summary);
    json_add_forfeits(object, &match->run->matches[match->of.index]);
    cJSON_AddNumberToObject(object, "run", (double)(match->run - report->runs + 1));
    cJSON_AddNumberToObject(object, "conditions", match->conditions);
    if (match->summary.sequential)
        add_test(object, match);
    if (report->weights != NULL)
        add_weighted(object, &match->weighted);
    return object;
}

static void add_trends(cJSON *object, const Report *report)
{
    cJSON *trends = cJSON_AddArrayToObject(object, "trends_per_100_percent");
    for (int i = 0; i < report->run_count; i++)
        for (int rule = PS_STRICT; rule <= PS_LOOSE; rule++) {
            if (report->trends[i][rule].doses < 2)
                continue;
            cJSON *trend = cJSON_CreateObject();
            json_add_difference(trend, &report->trends[i][rule].slope);
            cJSON_AddNumberToObject(trend, "run", i + 1);
            cJSON_AddStringToObject(trend, "rule", ps_rule_name(rule));
            cJSON_AddItemToArray(trends, trend);
        }
}

static void add_readings(cJSON *object, const Report *report)
{
    cJSON *readings = cJSON_AddArrayToObject(object, "strict_less_loose");
    for (int i = 0; i < report->reading_count; i++) {
        const ReadingPair *pair = &report->readings[i];
        const StoredRun *run = pair->strict.run;
        cJSON *reading = cJSON_CreateObject();
        json_add_difference(reading, &pair->difference);
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
    csv_text(out, match->name);
    fputc(',', out);
    csv_group(out, group);
    fputc('\n', out);
}

void report_write_csv(FILE *out, const Report *report)
{
    fprintf(out, "match,%s\n", csv_group_columns);
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
    for (int i = 0; i < report->run_count; i++)
        if (report_unfinished_text(report, i, first))
            fprintf(out, "%s\n", first);
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
