/* Knights, bishops, rooks and queens: where they stand, how many squares they can go to, and in what
 * company. */
#ifndef PAWNVANE_PIECES_H
#define PAWNVANE_PIECES_H

#include "engine/evaluation/survey.h"

/* For White. Fills in the survey what the pieces attack, whom they pin, and what they do to the kings. */
Pair score_pieces(Survey *v);

#endif
