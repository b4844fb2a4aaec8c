/* The static evaluation. */
#ifndef PAWNVANE_EVALUATE_H
#define PAWNVANE_EVALUATE_H

#include "engine/evaluation/misjudgement.h"
#include "engine/evaluation/pawn_table.h"
#include "engine/rules/position.h"

/* What an evaluation needs beside the position. One for each worker. */
typedef struct Evaluator {
    const EvalWeights *weights;
    ps_weights lever_weights;
    int lever_weight; /* percent of the lever term */
    ps_intent intent; /* plans in hand; none: the term is what the position says */
    Misjudgement misjudgement;
    PawnTable pawns;
} Evaluator;

/* In centipawns for the side to move, never a mate score. Symmetric in the colours. */
int evaluate(Evaluator *evaluator, const Position *position);

/* Takes the plans of the position at the root of a search in hand. Returns a key that is different for different
 * plans; with the lever term off there are none, and it is 0. */
uint64_t evaluate_intend(Evaluator *evaluator, const Position *root);

/* The two steps of it without the lever term, for a tool that fits the weights; both for White. The sum is
 * linear in the weights: as ints, too, so that a Pair may hold any int as long as no sum overflows. */
Pair evaluate_sum(Evaluator *evaluator, const Position *position);

/* Tapers a sum: a share of the middlegame half plus a share of the endgame half, which depends on whose
 * advantage that is. Each half by itself is linear, but for rounding and that. */
int evaluate_taper(const Position *position, const EvalUnits *units, Pair sum);

#endif
