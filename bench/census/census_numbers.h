/* The numbers of the tables by name, and the games behind them. A name is that of the table, the row and, if it has
 * several counts, the column:
 *
 *     pairs/de              games in which d and e were locked
 *     first-de/applies/ready/white
 *     first-moves/1.e4 e6 2.d4 d5/any
 *
 * A number that counts sides has a game once for each of them. */
#ifndef PAWNVANE_CENSUS_NUMBERS_H
#define PAWNVANE_CENSUS_NUMBERS_H

#include "bench/census/census.h"

enum { CENSUS_NAME_SIZE = 160 };

/* `column` may be null. */
void census_name(char name[CENSUS_NAME_SIZE], const char *table, const char *row, const char *column);

/* Calls `use` for each number in which a game counts, with a place in CensusGame.moments, or -1 if there is no moment to
 * look at. */
typedef void CensusUse(void *context, const char *name, const CensusGame *game, int moment);
void census_numbers(const CensusGame *game, CensusUse *use, void *context);

#endif
