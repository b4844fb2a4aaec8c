/* The word that was probably meant. */
#ifndef PAWNVANE_NEAREST_H
#define PAWNVANE_NEAREST_H

/* The index of the word that is nearest to a mistyped one, by the letters to put in, take out, change or
 * swap with a neighbour; the first among equals. -1 if more than a third of the letters would have to change. */
int nearest_word(const char *typed, const char *const *words, int count);

#endif
