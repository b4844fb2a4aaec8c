/* The games behind the numbers of a survey, all of them, on a stream, as CSV: number, file, game, move, fen. */
#ifndef PAWNVANE_CENSUS_LIST_H
#define PAWNVANE_CENSUS_LIST_H

#include "bench/census/census.h"

#include <stdio.h>

void census_list_head(FILE *out);

/* A line for each number with that name, or whose name begins with it and a slash, in which the game counts, which has
 * moments. Returns how many these are. */
size_t census_list(FILE *out, const char *name, const char *file, const CensusGame *game);

#endif
