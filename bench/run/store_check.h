/* Rows that cannot be those of a run: a file may have been damaged, or changed by another program. */
#ifndef PAWNVANE_STORE_CHECK_H
#define PAWNVANE_STORE_CHECK_H

#include "bench/base/database.h"

/* Whether every row holds what its column is for, and refers to rows that are there; only then are its
 * numbers good as indices. If not, one line names the first row that is wrong, by its table and key. Call it
 * within the transaction that then reads the rows, so that they are the same. */
bool store_check(const Database *database);

#endif
