/* What pawns are worth by themselves, and as a shelter for a king. All of it depends on the pawns alone and,
 * for a shelter, on the square of the king. */
#ifndef PAWNVANE_PAWN_TERMS_H
#define PAWNVANE_PAWN_TERMS_H

#include "engine/evaluation/weights.h"
#include "engine/rules/position.h"

typedef struct PawnTerms {
    Bitboard passed; /* of both sides */
    /* Every square that a side's pawns attack, now or after advances. */
    Bitboard attack_span[SIDE_COUNT];
    Pair score; /* for White, with the values and squares of the pawns */
} PawnTerms;

/* The four files round a king in the corner, or the four in the middle. */
static inline Bitboard king_flank(Square king)
{
    static const int first[FILE_COUNT] = {FILE_A, FILE_A, FILE_A, FILE_C, FILE_C, FILE_E, FILE_E, FILE_E};
    return UINT64_C(0x0F0F0F0F0F0F0F0F) << first[file_of(king)];
}

/* Computes the terms of the pawns of both sides. */
void pawn_terms(const EvalWeights *weights, const Bitboard pawns[SIDE_COUNT], PawnTerms *terms);

/* What the pawns mean for the king of a side, for that side. */
Pair king_shelter(const EvalWeights *weights, const Position *position, Side side);

#endif
