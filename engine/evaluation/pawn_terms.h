/* What pawns are worth by themselves, and as a king sees them. All of it depends on the pawns alone and, for
 * the second, on the square of the king. */
#ifndef PAWNVANE_PAWN_TERMS_H
#define PAWNVANE_PAWN_TERMS_H

#include "engine/evaluation/weights.h"
#include "engine/rules/position.h"

typedef struct PawnTerms {
    Bitboard passed, rams; /* of both sides */
    Pair score;            /* for White, with the values and squares of the pawns */
} PawnTerms;

/* Computes the terms of the pawns of both sides. */
void pawn_terms(const EvalWeights *weights, const Bitboard pawns[SIDE_COUNT], PawnTerms *terms);

/* What the pawns mean for the king of a side, for that side. */
Pair pawns_seen_by_king(const EvalWeights *weights, const Position *position, Side side);

#endif
