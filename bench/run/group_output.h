/* The numbers of a match for programs: whatever command prints them, they have the same names. */
#ifndef PAWNVANE_GROUP_OUTPUT_H
#define PAWNVANE_GROUP_OUTPUT_H

#include "bench/run/match_summary.h"
#include "bench/run/run_comparison.h"

#include <cjson/cJSON.h>
#include <stdio.h>

cJSON *json_arm(const StoredArm *arm);
cJSON *json_group(const GroupSummary *group);

/* Adds score and Elo difference, each with its interval. */
void json_add_estimate(cJSON *object, const MatchEstimate *estimate);

/* Adds to the object of a match: "all", "strata", "heterogeneity", "lever_by_verdict". */
void json_add_groups(cJSON *match, const MatchSummary *summary);

/* Adds "lost": how many games each arm lost though their positions were not. */
void json_add_forfeits(cJSON *match, const StoredMatch *stored);

/* Adds the members of a difference to an object that says of what. */
void json_add_difference(cJSON *object, const Difference *difference);

/* The columns of a group, without a line end: as a heading, and as values. What is not finite is empty. */
extern const char csv_group_columns[];
void csv_group(FILE *out, const GroupSummary *group);

#endif
