/* The positions that are searched, and which of them are independent of each other. */
#ifndef PAWNVANE_NEARER_POSITIONS_H
#define PAWNVANE_NEARER_POSITIONS_H

#include "engine/rules/position.h"

#include <stdbool.h>
#include <stddef.h>

typedef struct NearerPositions {
    size_t count, capacity, unit_capacity;
    Position *items;
    size_t *units; /* by position, 0 .. unit_count - 1 */
    size_t unit_count;
    bool by_game; /* some position has a game */
} NearerPositions;

/* Adds those of a file of EPD or FEN lines, "-" for the standard input. Those of a game, which c8 gives the number of as
 * in a sample of `fit`, are one unit; any other is a unit of its own. Bad lines are reported and left out. Returns
 * whether everything was good. */
bool nearer_positions_read(NearerPositions *positions, const char *path);

void nearer_positions_free(NearerPositions *positions);

#endif
