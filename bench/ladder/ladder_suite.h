/* Where the ladder is hung up: how many positions of a suite each level solves. */
#ifndef PAWNVANE_LADDER_SUITE_H
#define PAWNVANE_LADDER_SUITE_H

#include "bench/ladder/ladder.h"
#include "engine/rules/movegen.h"

typedef struct LadderSuiteItem {
    Position position;
    MoveList best;
} LadderSuiteItem;

typedef struct LadderSuite {
    size_t count, capacity;
    LadderSuiteItem *items;
} LadderSuite;

enum { LADDER_SUITE_SEEDS = 10 };

/* Reads an EPD file with bm. False on failure (reported). */
bool ladder_suite_read(LadderSuite *suite, const char *path);

/* Lets each level choose a move in each position, once with each seed, and notes how many it solved on average: of those levels
 * for which there is time before the program is told to end. False if memory runs out (reported). */
bool ladder_suite_solve(const LadderSuite *suite, Ladder *ladder);

/* How many of the 24 positions of the Bratko-Kopec test people of that rating solved. */
double ladder_suite_people(int rating);

void ladder_suite_free(LadderSuite *suite);

#endif
