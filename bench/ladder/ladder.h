/* The ladder of strengths: what games between neighbouring levels say of their ratings.
 *
 * Each level plays the next one only, so the likelihood of the logistic model (match_statistics.h) has a factor for each
 * step and none in common: the most likely ratings are those whose differences are the Elo differences of the matches,
 * step by step, and the errors of the steps add up by their squares. */
#ifndef PAWNVANE_LADDER_H
#define PAWNVANE_LADDER_H

#include "bench/run/stored_run.h"

enum { LADDER_LEVELS_MAX = 32 };

typedef struct LadderLevel {
    int elo;         /* as named */
    double measured; /* rating by the games; that of the anchor is as named */
    double error;    /* standard error of the difference from the anchor */
    double solved;   /* positions of a suite, on average; NaN without one */
} LadderLevel;

typedef struct Ladder {
    int count;
    int anchor; /* index of the level whose rating stays: the one nearest to LADDER_ANCHOR */
    LadderLevel levels[LADDER_LEVELS_MAX];
    MatchEstimate steps[LADDER_LEVELS_MAX]; /* of level i + 1 against level i */
} Ladder;

enum { LADDER_ANCHOR = 1700 };

/* Reads the ladder off a run in which arm i is level i and match i is level i + 1 against level i. False if memory runs
 * out (reported). */
bool ladder_read(Ladder *ladder, const StoredRun *run);

/* How far the 95 % interval of a level's rating reaches to each side, by its standard error. */
double ladder_rating_spread(const LadderLevel *level);

/* What the names of two neighbours promise of their score. */
double ladder_promise(const Ladder *ladder, int step);

/* Whether each level is better than the one below it. */
typedef enum LadderOrder { LADDER_RISES, LADDER_FALLS_SOMEWHERE, LADDER_NOT_ALL_PLAYED } LadderOrder;
LadderOrder ladder_order(const Ladder *ladder);

#endif
