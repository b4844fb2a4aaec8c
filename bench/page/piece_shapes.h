/* How the men look in a diagram: drawn for this project.
 *
 * A shape fills a square of 100 by 100 units, y downward. `body` is filled in the colour of its side and
 * outlined in ink, `detail` is a line on it. Both are SVG path data. */
#ifndef PAWNVANE_PIECE_SHAPES_H
#define PAWNVANE_PIECE_SHAPES_H

#include "engine/rules/move.h"

typedef struct PieceShape {
    const char *name;
    const char *body;
    const char *detail;
} PieceShape;

extern const PieceShape piece_shapes[ROLE_COUNT];

#endif
