/* What the matches of a stored run say, over all pairs and by stratum. */
#ifndef PAWNVANE_MATCH_SUMMARY_H
#define PAWNVANE_MATCH_SUMMARY_H

#include "bench/run/match_statistics.h"
#include "bench/run/obedience.h"
#include "bench/run/questions.h"
#include "bench/run/stored_run.h"

/* Whether a test was to stop the run, looking at its results. */
bool run_is_sequential(const StoredRun *run);

/* What a group of pairs says of the first arm. */
typedef enum Effect { EFFECT_NONE, EFFECT_OPEN, EFFECT_HELPED, EFFECT_HARMED } Effect;

typedef struct GroupSummary {
    const char *name; /* of the stratum, "all" for the whole match */
    PairCounts counts;
    uint64_t planned;       /* pairs, of which the counts may have only some */
    uint64_t same_games;    /* pairs whose two games have the same moves: the arms played alike */
    MatchEstimate estimate; /* 95 % intervals */
    double p_adjusted;      /* Holm's, over the wholes and the strata of all matches of the run: see
                               run_summarise() */
    double pairs_needed;    /* for Questions.effect: 5 % level, power 80 %; infinite if it was not asked */
    Effect by_test;         /* what effect_by_test() says, EFFECT_NONE without a test */
    ObedienceGroup lever;   /* whether the arms played live named levers */
    double p_equivalence;   /* for Questions.margin; NaN if it was not asked */
} GroupSummary;

typedef struct MatchSummary {
    GroupSummary all;
    int stratum_count;
    GroupSummary strata[STRATA_MAX];             /* as in the run; those without a pair have no estimate */
    ObedienceGroup levers[OBEDIENCE_KIND_COUNT]; /* over all strata, by what the plans say */
    int tests;                                   /* of the run: so many p_adjusted allows for */
    Heterogeneity heterogeneity;
    /* A match that a sequential test was to stop has the interval that holds at every moment (after_stop.h)
     * and no P value; its strata have neither. */
    bool sequential;
    SequentialTest test;
} MatchSummary;

/* Of all matches of the run, which must outlive them; to be freed. Null if memory runs out.
 *
 * A run is one family of tests: that any of its matches, or any stratum of them, is said to have helped or
 * harmed where nothing did, has a chance of 5 % at most. The wholes have four fifths of that together, the
 * strata, which nobody plans a match for, one fifth (weighted Holm); what is found leaves its share to the
 * others. */
MatchSummary *run_summarise(const StoredRun *run, const Questions *questions);

/* The estimate of the whole match after its first pairs. */
MatchEstimate match_estimate_after(const StoredRun *run, int match, size_t pairs);

/* Whether every game of the group went as its other half: nothing in it depends on the arms. */
bool group_plays_alike(const GroupSummary *group);

/* What the verdict of a sequential test says, if it tests no effect against one at the 5 % level or below:
 * that is a finding of its own. Else EFFECT_NONE. */
Effect effect_by_test(const SequentialTest *test, const PairCounts *counts);

/* The verdict of the test, if there was one. Else 5 % level after adjustment, an interval without 0, and at
 * least FINDING_PAIRS pairs. */
enum { FINDING_PAIRS = 20 };
Effect group_effect(const GroupSummary *group);
const char *effect_name(Effect effect);

#endif
