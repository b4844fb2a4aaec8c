/* What the parts of the evaluation share about one position: who attacks what. The parts read it and, where
 * they look at pieces, fill it; evaluate.c has the order. */
#ifndef PAWNVANE_SURVEY_H
#define PAWNVANE_SURVEY_H

#include "engine/evaluation/pawn_terms.h"
#include "engine/rules/geometry.h"
#include "engine/rules/position.h"

/* Each part is compiled for White and for Black, with what depends on the side folded in. */
#define FOR_A_SIDE static inline __attribute__((always_inline))

/* The four files in the middle. */
#define CENTRE_FILES UINT64_C(0x3C3C3C3C3C3C3C3C)

typedef struct Survey {
    const Position *p;
    const EvalWeights *w;
    const PawnTerms *pawns;
    Bitboard occupied;
    Bitboard attacks[SIDE_COUNT][ROLE_COUNT]; /* by everything of that role */
    Bitboard attacked[SIDE_COUNT];            /* by anything */
    Bitboard attacked_twice[SIDE_COUNT];
    Bitboard king_zone[SIDE_COUNT];
    Bitboard pinned[SIDE_COUNT]; /* men of either side that hide this side's king from a slider */
    int danger[SIDE_COUNT];      /* to the king of that side, see king_danger.c */
    int attackers[SIDE_COUNT];
} Survey;

FOR_A_SIDE void note_attacks(Survey *v, Side side, Role role, Bitboard attacks)
{
    v->attacks[side][role] |= attacks;
    v->attacked_twice[side] |= v->attacked[side] & attacks;
    v->attacked[side] |= attacks;
}

#endif
