/* What the pupil types and what is said to it: one game, line by line. */
#ifndef PAWNVANE_SPAR_DIALOGUE_H
#define PAWNVANE_SPAR_DIALOGUE_H

#include "bench/spar/spar_match.h"

#include <stdio.h>

typedef struct SparDialogue {
    FILE *in; /* without a buffer: whether there is input is asked of the system */
    FILE *out;
    bool words; /* positions in words, not as a board of letters */
    bool notes; /* changes of the plans and the reasons of the partner unasked */
} SparDialogue;

/* Says a text, in lines of less than 80 characters. */
void spar_dialogue_say(const SparDialogue *dialogue, const char *text);

/* Plays a game that has been started until it ends, the pupil leaves, or the input ends; and asks whether there is to be
 * another. False if memory runs out. */
bool spar_dialogue_play(const SparDialogue *dialogue, SparMatch *match, bool *another);

#endif
