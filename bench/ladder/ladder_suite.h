/* Where the ladder is hung up: how many positions of a suite each level solves. */
#ifndef PAWNVANE_LADDER_SUITE_H
#define PAWNVANE_LADDER_SUITE_H

#include <stdbool.h>
#include <stdio.h>

/* Lets each level choose a move in each position, as many times as it has seeds, and prints how many it solved on
 * average, beside what people of that rating solved of the Bratko-Kopec test. False on failure (reported). */
bool ladder_suite_print(FILE *out, const char *path, const int *elos, int count);

#endif
