/* Positions after four moves of each side, all different, and numbered: what openings are drawn from.
 *
 * Each side has made its four moves, none of them a capture, on its own half of the board. So neither was in the
 * other's way, and a position is White's half and Black's half: as many halves as there are in the square. */
#ifndef PAWNVANE_QUIET_START_H
#define PAWNVANE_QUIET_START_H

#include "engine/rules/position.h"

#include <stddef.h>

enum { QUIET_MOVES = 4 }; /* of each side */

typedef struct QuietStarts QuietStarts;

/* Null if memory runs out. Takes some hundredths of a second. */
QuietStarts *quiet_starts_new(void);
void quiet_starts_free(QuietStarts *starts);

/* How many numbers there are. */
uint64_t quiet_starts_count(const QuietStarts *starts);

/* The position of a number from 0 on, in an order that is shuffled by the seed: different numbers are different
 * positions. False if the two halves do not go together: on the way one side would have been in a check that it
 * does not meet, or the game is over. */
bool quiet_start(const QuietStarts *starts, uint64_t seed, uint64_t number, Position *position);

#endif
