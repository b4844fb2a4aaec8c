#include "bench/report/report_output.h"

#include "bench/base/csv.h"

#include <cjson/cJSON.h>
#include <math.h>

/* Rounded, so that a last digit that depends on the machine does not show. */
static void add_number(cJSON *object, const char *key, double value, double unit)
{
    cJSON_AddItemToObject(
        object, key, isfinite(value) ? cJSON_CreateNumber(round(value / unit) * unit) : cJSON_CreateNull());
}

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
    add_number(object, "superiority", e->superiority, 1e-5);
    add_number(object, "p", e->p_value, 1e-5);
    add_number(object, "p_holm", group->p_adjusted, 1e-5);
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

static cJSON *match_object(const ReportMatch *match)
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
    return object;
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
        cJSON_AddItemToArray(matches, match_object(&report->matches[i]));
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
                              e->superiority,
                              e->p_value,
                              group->p_adjusted};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        isfinite(numbers[i]) ? fprintf(out, ",%.5f", numbers[i]) : fputc(',', out);
    fputc('\n', out);
}

void report_write_csv(FILE *out, const Report *report)
{
    fputs("match,stratum,pairs,points_0,points_half,points_1,points_3_halves,points_2,score,score_low,score_"
          "high,elo,elo_low,elo_high,superiority,p,p_holm\n",
          out);
    for (int i = 0; i < report->match_count; i++) {
        const ReportMatch *match = &report->matches[i];
        csv_row(out, match, &match->summary.all);
        for (int k = 0; k < match->summary.stratum_count; k++)
            csv_row(out, match, &match->summary.strata[k]);
    }
}
