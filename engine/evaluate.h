/* The static evaluation. */
#ifndef PAWNVANE_EVALUATE_H
#define PAWNVANE_EVALUATE_H

#include "engine/pawn_table.h"
#include "engine/position.h"

/* What an evaluation needs beside the position. One for each worker. */
typedef struct Evaluator {
    const EvalWeights *weights;
    ps_weights lever_weights;
    int lever_weight; /* percent of the lever term */
    PawnTable pawns;
} Evaluator;

/* In centipawns for the side to move, never a mate score. Symmetric in the colours. */
int evaluate(Evaluator *evaluator, const Position *position);

#endif
