/* Whether there is a mate in so many moves at all: every move of both sides is tried, nothing is left out. */
#ifndef PAWNVANE_MATE_PROOF_H
#define PAWNVANE_MATE_PROOF_H

#include "engine/search/searcher.h"

typedef enum MateProof { MATE_UNDECIDED, MATE_THERE, MATE_NOT_THERE } MateProof;

/* For the side to move at the root. Undecided if the limits end the search or memory is short; after the former
 * s->stopped is set. The time grows about a thousandfold with each move. */
MateProof mate_proof(Searcher *s, int moves);

#endif
