/* Positions as the numbers that a fit needs: how the evaluation depends on each weight.
 *
 * Scores are White's. The evaluation of a row is
 *
 *     middlegame * the sum of count * (middlegame half of the weight)
 *   + endgame[side that this sum favours] * the sum of count * (endgame half of the weight)
 *   + the sum of slope * (lever weight) + constant
 *
 * exactly, but for the rounding to centipawns. The weights of the evaluation are counted in order as if
 * EvalWeights were an array of Pairs; a lever weight by its index in ps_weight_table. */
#ifndef PAWNVANE_FIT_FEATURES_H
#define PAWNVANE_FIT_FEATURES_H

#include "bench/fit/fit_sample.h"
#include "engine/evaluation/weights.h"
#include "structure/structure.h"

#include <stddef.h>

enum { PAIR_COUNT = offsetof(EvalWeights, units) / sizeof(Pair) };

typedef struct FitCount {
    uint16_t pair; /* 0 .. PAIR_COUNT - 1 */
    int16_t count; /* White's minus Black's, not 0 */
} FitCount;

typedef struct FitSlope {
    int weight; /* 0 .. PS_WEIGHT_COUNT - 1 */
    float slope;
} FitSlope;

typedef struct FitRow {
    size_t first_count, first_slope; /* in the arrays of FitFeatures */
    int counts, slopes;
    float middlegame, endgame[2]; /* 0 to 1; endgame by Side */
    float constant;               /* centipawns */
    float result;                 /* of the game: 0, 0.5 or 1 */
    int16_t score;                /* of the search, or NO_FIT_SCORE */
    bool held_out;
} FitRow;

typedef struct FitFeatures {
    size_t rows_count, rows_capacity, counts_count, counts_capacity, slopes_count, slopes_capacity;
    FitRow *rows;
    FitCount *counts;
    FitSlope *slopes;
} FitFeatures;

/* Adds rows for all positions of the sample, in order, under these units. Without slopes, see below. False if
 * memory runs out. */
bool fit_features_extract(FitFeatures *features, const FitSample *sample, const EvalUnits *units,
                          int workers);

/* Sets the slopes of all rows to those of the lever term at these weights, of any real value within the
 * bounds of ps_weight_table; replaces earlier ones. The rows must be those of the sample. False if memory
 * runs out. */
bool fit_features_linearise(FitFeatures *features, const FitSample *sample,
                            const double lever[PS_WEIGHT_COUNT]);

void fit_features_free(FitFeatures *features);

#endif
