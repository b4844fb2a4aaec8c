/* Whether the arms of a match did what the plan says: in how many games with a named lever each of them played it.
 *
 * Both arms have each side of each opening once, so what they did is paired. The unit is the pair of games, as for
 * results: its two sides are not independent of each other. */
#ifndef PAWNVANE_OBEDIENCE_H
#define PAWNVANE_OBEDIENCE_H

#include "bench/base/means.h"
#include "bench/run/stored_run.h"

/* The groups by verdict. A lever that could not be played where the game started may be freed later, and the plan at that
 * point may ask for it; what was pushed without being asked for is counted by itself. An arm that has pushed when asked
 * cannot do so unasked any more: where it is asked often, its unasked pushes come out a little too few. */
typedef enum ObedienceKind {
    OBEDIENCE_APPLIES = NAMED_APPLIES,
    OBEDIENCE_WEAK = NAMED_WEAK,
    OBEDIENCE_MISLEADING = NAMED_MISLEADING,
    OBEDIENCE_UNASKED, /* the misleading once more, without the pushes that the plan of the moment named */
    OBEDIENCE_KIND_COUNT
} ObedienceKind;

extern const char *const obedience_kind_names[OBEDIENCE_KIND_COUNT];
extern const char obedience_unasked_words[]; /* what the last group is, as a sentence */

/* Of some sides that start with a named lever; entries of arrays are arm A and arm B. */
typedef struct ObedienceGroup {
    size_t sides;             /* that each arm had */
    size_t played[2];         /* on how many of them it pushed to the named square */
    double plies[2];          /* median, from the start of the game up to that push; NaN if there was none */
    ClusteredMean difference; /* A's share less B's: clustered_mean(), at 95 % */
    ClusteredRatio ratio;     /* A's share by B's: clustered_ratio(), at 95 % */
} ObedienceGroup;

typedef struct Obedience {
    ObedienceGroup live; /* all live named levers: applies and weak */
    ObedienceGroup kinds[OBEDIENCE_KIND_COUNT];
    int stratum_count;
    ObedienceGroup strata[STRATA_MAX]; /* live ones, as in the run */
} Obedience;

/* False if memory runs out. */
bool obedience_of(const StoredRun *run, const StoredMatch *match, Obedience *obedience);

#endif
