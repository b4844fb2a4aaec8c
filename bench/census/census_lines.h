/* Games without an opening code, grouped by their first moves. */
#ifndef PAWNVANE_CENSUS_LINES_H
#define PAWNVANE_CENSUS_LINES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Games of an opening, by whatever it is told: `any` has a locked chain of any grade but void. */
typedef struct CensusOpening {
    size_t games, any, de;
} CensusOpening;

static inline void census_opening_add(CensusOpening *opening, bool any, bool de)
{
    opening->games++;
    opening->any += any;
    opening->de += de;
}

typedef struct CensusLine {
    uint64_t first_moves; /* CensusGame.first_moves; 0: an empty place */
    CensusOpening opening;
} CensusLine;

/* A set by first moves, all zero at first. */
typedef struct CensusLines {
    size_t count, capacity;
    CensusLine *places;
} CensusLines;

/* The opening with these first moves, which is empty if there has been none; null if memory runs out. */
CensusOpening *census_lines_find(CensusLines *lines, uint64_t first_moves);

/* All of them, the most frequent first, of equal ones those with the least first moves; to be freed. Null if memory
 * runs out. */
CensusLine *census_lines_sorted(const CensusLines *lines);

void census_lines_free(CensusLines *lines);

#endif
