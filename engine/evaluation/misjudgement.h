/* A judgement that errs, for a player who is not to be at full strength: more where pieces can be taken, for there a
 * weak player errs most. An error belongs to a position: whoever looks twice sees the same. */
#ifndef PAWNVANE_MISJUDGEMENT_H
#define PAWNVANE_MISJUDGEMENT_H

#include "engine/rules/position.h"

typedef struct Misjudgement {
    uint64_t seed; /* another one, other errors */
    int size;      /* centipawns, 0: none. In a quiet position no error is greater */
} Misjudgement;

/* No error is greater, in centipawns: together two of them hide the loss of a minor piece, and never that of a queen. */
enum { MISJUDGED_MOST = 250 };

bool misjudgement_is_same(const Misjudgement *one, const Misjudgement *other);

/* Bits that look random and depend on the position and the seed alone. */
uint64_t misjudgement_bits(uint64_t seed, const Position *position);

/* The error of the static score of a position: centipawns, 0 on average. */
int misjudge_by(const Misjudgement *misjudgement, const Position *position);

static inline int misjudge(const Misjudgement *misjudgement, const Position *position)
{
    return misjudgement->size == 0 ? 0 : misjudge_by(misjudgement, position);
}

/* Pieces that the enemy attacks with a pawn, or that nothing guards while he attacks them. Of both sides; kings are
 * left out. */
int misjudgement_loose_pieces(const Position *position);

#endif
