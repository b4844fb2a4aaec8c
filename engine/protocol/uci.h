/* The Universal Chess Interface (protocol text of April 2006). */
#ifndef PAWNVANE_UCI_H
#define PAWNVANE_UCI_H

#include <stdio.h>

/* Reads commands until "quit" or the end of input, and answers them. Returns the exit status: 0, or 1 if
 * memory ran out at the start. */
int uci_loop(FILE *in, FILE *out);

#endif
