#include "bench/run/group_output.h"
#include "bench/base/csv.h"
#include "bench/base/json_line.h"

#include <inttypes.h>

cJSON *json_arm(const StoredArm *arm)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddNumberToObject(object, "weight", arm->weight);
    cJSON_AddStringToObject(object, "rule", arm->rule);
    cJSON_AddNumberToObject(object, "nodes", (double)arm->nodes);
    cJSON_AddStringToObject(object, "parameters", arm->parameters);
    cJSON_AddStringToObject(object, "engine", arm->engine);
    return object;
}

void json_add_forfeits(cJSON *match, const StoredMatch *stored)
{
    static const char *const names[FORFEIT_COUNT] = {"time", "illegal_move", "engine_ended"};
    cJSON *forfeits = cJSON_AddObjectToObject(match, "lost");
    for (int i = 0; i < FORFEIT_COUNT; i++) {
        cJSON *arms = cJSON_AddObjectToObject(forfeits, names[i]);
        cJSON_AddNumberToObject(arms, "a", (double)stored->lost[i][0]);
        cJSON_AddNumberToObject(arms, "b", (double)stored->lost[i][1]);
    }
}

/* Null where there is no side with such a lever. */
static void json_add_lever(cJSON *object, const char *name, const ObedienceGroup *group)
{
    static const char *const arms[] = {"a", "b"};
    if (group->sides == 0) {
        cJSON_AddNullToObject(object, name);
        return;
    }
    cJSON *lever = cJSON_AddObjectToObject(object, name);
    cJSON_AddNumberToObject(lever, "sides", (double)group->sides);
    cJSON *played = cJSON_AddObjectToObject(lever, "played"),
          *plies = cJSON_AddObjectToObject(lever, "plies");
    for (int arm = 0; arm < 2; arm++) {
        cJSON_AddNumberToObject(played, arms[arm], (double)group->played[arm]);
        json_add_real(plies, arms[arm], group->plies[arm]);
    }
    json_add_real(lever, "difference", group->difference.mean);
    json_add_real(lever, "difference_low", group->difference.interval.low);
    json_add_real(lever, "difference_high", group->difference.interval.high);
    json_add_real(lever, "ratio", group->ratio.ratio);
    json_add_real(lever, "ratio_low", group->ratio.interval.low);
    json_add_real(lever, "ratio_high", group->ratio.interval.high);
}

void json_add_estimate(cJSON *object, const MatchEstimate *estimate)
{
    json_add_real(object, "score", estimate->score);
    json_add_real(object, "score_low", estimate->score_interval.low);
    json_add_real(object, "score_high", estimate->score_interval.high);
    json_add_real(object, "elo", estimate->elo);
    json_add_real(object, "elo_low", estimate->elo_interval.low);
    json_add_real(object, "elo_high", estimate->elo_interval.high);
}

cJSON *json_group(const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "name", group->name);
    cJSON_AddNumberToObject(object, "pairs", (double)e->pairs);
    cJSON_AddNumberToObject(object, "pairs_planned", (double)group->planned);
    cJSON *counts = cJSON_AddArrayToObject(object, "pairs_by_half_points");
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        cJSON_AddItemToArray(counts, cJSON_CreateNumber((double)group->counts.n[i]));
    json_add_estimate(object, e);
    json_add_real(object, "superiority", 1 - e->p_upper);
    json_add_real(object, "p", e->p_value);
    json_add_real(object, "p_one_sided", e->p_upper);
    json_add_real(object, "p_adjusted", group->p_adjusted);
    json_add_real(object, "p_equivalence", group->p_equivalence);
    json_add_real(object, "pairs_needed", group->pairs_needed);
    cJSON_AddNumberToObject(object, "pairs_with_same_games", (double)group->same_games);
    cJSON_AddStringToObject(object, "effect", effect_name(group_effect(group)));
    json_add_lever(object, "lever", &group->lever);
    return object;
}

void json_add_groups(cJSON *match, const MatchSummary *summary)
{
    const Heterogeneity *h = &summary->heterogeneity;
    cJSON_AddItemToObject(match, "all", json_group(&summary->all));
    cJSON *strata = cJSON_AddArrayToObject(match, "strata");
    for (int i = 0; i < summary->stratum_count; i++)
        cJSON_AddItemToArray(strata, json_group(&summary->strata[i]));
    cJSON *heterogeneity = cJSON_AddObjectToObject(match, "heterogeneity");
    json_add_real(heterogeneity, "q", h->q);
    json_add_real(heterogeneity, "degrees", h->degrees);
    json_add_real(heterogeneity, "p", h->p_value);
    json_add_real(heterogeneity, "i_squared", h->i_squared);
    cJSON *levers = cJSON_AddObjectToObject(match, "lever_by_verdict");
    for (int i = 0; i < (int)OBEDIENCE_KIND_COUNT; i++)
        json_add_lever(levers, obedience_kind_names[i], &summary->levers[i]);
}

void json_add_difference(cJSON *object, const Difference *difference)
{
    cJSON_AddNumberToObject(object, "openings", (double)difference->openings);
    cJSON_AddBoolToObject(object, "paired", difference->paired);
    json_add_real(object, "elo", difference->elo);
    json_add_real(object, "elo_low", difference->interval.low);
    json_add_real(object, "elo_high", difference->interval.high);
    json_add_real(object, "p", difference->p_value);
    json_add_real(object, "p_adjusted", difference->p_adjusted);
}

const char csv_group_columns[] =
    "stratum,pairs,points_0,points_half,points_1,points_1_and_half,points_2,score,score_low,score_high,elo,"
    "elo_low,elo_high,superiority,p,p_adjusted,pairs_needed,p_one_sided,p_equivalence,pairs_with_same_games,"
    "pairs_planned,lever_sides,lever_played_a,lever_played_b,lever_plies_a,lever_plies_b,lever_difference,"
    "lever_difference_low,lever_difference_high,lever_ratio,lever_ratio_low,lever_ratio_high";

void csv_group(FILE *out, const GroupSummary *group)
{
    const MatchEstimate *e = &group->estimate;
    csv_text(out, group->name);
    fprintf(out, ",%" PRIu64, e->pairs);
    for (int i = 0; i < PAIR_OUTCOMES; i++)
        fprintf(out, ",%" PRIu64, group->counts.n[i]);
    const double values[] = {e->score,
                             e->score_interval.low,
                             e->score_interval.high,
                             e->elo,
                             e->elo_interval.low,
                             e->elo_interval.high,
                             1 - e->p_upper,
                             e->p_value,
                             group->p_adjusted,
                             group->pairs_needed,
                             e->p_upper,
                             group->p_equivalence};
    csv_reals(out, values, sizeof values / sizeof *values);
    const ObedienceGroup *o = &group->lever;
    const double lever[] = {o->plies[0],
                            o->plies[1],
                            o->difference.mean,
                            o->difference.interval.low,
                            o->difference.interval.high,
                            o->ratio.ratio,
                            o->ratio.interval.low,
                            o->ratio.interval.high};
    fprintf(out, ",%" PRIu64 ",%" PRIu64 ",%zu,%zu,%zu", group->same_games, group->planned, o->sides,
            o->played[0], o->played[1]);
    csv_reals(out, lever, sizeof lever / sizeof *lever);
}
