/* What a match of a stored run says, over all pairs and by stratum. */
#ifndef PAWNVANE_MATCH_SUMMARY_H
#define PAWNVANE_MATCH_SUMMARY_H

#include "bench/run/match_statistics.h"
#include "bench/run/stored_run.h"

typedef struct GroupSummary {
    const char *name; /* of the stratum, "all" for the whole match */
    PairCounts counts;
    MatchEstimate estimate; /* 95 % intervals */
    double p_adjusted;      /* Holm's, over the strata; for the whole match the plain one */
    double pairs_needed;    /* to tell an effect of this size from none: 5 % level, power 80 % */
} GroupSummary;

typedef struct MatchSummary {
    GroupSummary all;
    int stratum_count;
    GroupSummary strata[STRATA_MAX]; /* as in the run; those without a pair have no estimate */
    Heterogeneity heterogeneity;
} MatchSummary;

/* Of the first `pairs` finished pairs (all of them if there are fewer). Refers to texts of the run. */
MatchSummary match_summarise(const StoredRun *run, int match, size_t pairs);

#endif
