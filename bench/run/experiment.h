/* The plan of an experiment: all that decides which games are played and how they end. */
#ifndef PAWNVANE_EXPERIMENT_H
#define PAWNVANE_EXPERIMENT_H

#include "bench/play/fingerprint.h"
#include "bench/play/opening.h"
#include "bench/play/play.h"
#include "bench/run/match_statistics.h"

enum { ARMS_MAX = 64, MATCHES_MAX = 64 };

/* Which two arms play each other: indices into Experiment.arms. */
typedef struct Match {
    int a, b;
} Match;

/* When a duel stops. */
typedef enum StopWhen {
    STOP_NEVER = -1,
    STOP_AT_PAIRS,
    STOP_AT_INTERVAL,
    STOP_AT_DECISION,
    STOP_WHEN_COUNT
} StopWhen;

/* Fewer pairs say too little about their own variance for a rule that looks at it after every pair: with less
 * the tests' simulations show rates of error just above the nominal ones. */
enum { STOP_PAIRS_LEAST = 100 };

typedef struct StopRule {
    StopWhen when;
    double half_width; /* in Elo: STOP_AT_INTERVAL stops when the 95 % interval reaches no further */
    SequentialTest test;
} StopRule;

/* Every match plays each opening twice: first arm A has White (half 0), then arm B (half 1). */
typedef struct Experiment {
    const char *kind; /* "duel" or "sweep" */
    int arm_count, match_count;
    Arm arms[ARMS_MAX];
    char engines[ARMS_MAX][FINGERPRINT_SIZE]; /* who plays for each arm: experiment_identify() */
    Match matches[MATCHES_MAX];
    size_t pairs;                     /* planned, of each match */
    size_t stratum_pairs[STRATA_MAX]; /* the same, by OpeningSet.strata */
    size_t first_pair;                /* of this share: the number of the first opening */
    OpeningSet openings;              /* one for each pair of this share, in the order of play */
    const char *openings_source;      /* for the record */
    uint64_t openings_hash;           /* of all that are planned; 0 if they follow from the seed */
    uint64_t seed;
    TimeControl time;
    int table_mib;
    Adjudication adjudication;
    StopRule stop;
} Experiment;

/* One game of it. */
typedef struct GameKey {
    int match, pair, half;
} GameKey;

/* Part k of n (from 1) has the k-th of n stretches of the pairs, the same of every match. Each stretch has its
 * part of every stratum: openings_arrange() sees to that. */
typedef struct Share {
    int number, of;
} Share;

/* The first pair of a share, and of the next one. */
static inline size_t share_begin(Share share, size_t pairs)
{
    return pairs * (size_t)(share.number - 1) / (size_t)share.of;
}

static inline size_t share_end(Share share, size_t pairs)
{
    return pairs * (size_t)share.number / (size_t)share.of;
}

/* Half points of arm A. */
static inline int game_points_a(int half, int white_points)
{
    return half == 0 ? white_points : 2 - white_points;
}

/* Finds out who plays for each arm. False on failure (reported). */
bool experiment_identify(Experiment *experiment);

/* Whether the match may stop when its first pairs ended like this. */
bool stop_reached(const StopRule *rule, const PairCounts *counts);

#endif
