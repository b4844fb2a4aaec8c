/* Chess diagrams as inline SVG, with the structure marked on them.
 *
 * Marks: a double bar where two pawns ram each other; a line along each chain that has a locked part; an arrow
 * along the principal chain of each side, in the direction in which it points; a circle on its base lever
 * square and a lozenge on its head lever square, crossed out if the lever can no longer be played, ticked if it
 * has done its work;
 * shading on its room. White's marks are solid lines, Black's are broken ones, so that they can be told apart
 * without colours.
 *
 *     diagram_definitions(out); // once a page, before the first diagram
 *     diagram_write(out, &(Diagram){.id = "first", .position = &position, .analysis = &analysis});
 *     diagram_legend(out);
 */
#ifndef PAWNVANE_DIAGRAM_H
#define PAWNVANE_DIAGRAM_H

#include "engine/rules/position.h"
#include "structure/structure.h"

#include <stdio.h>

/* A move drawn on the board. */
typedef struct DiagramArrow {
    Square from, to;
    const char *label; /* a word beside it, null for none */
    bool played;       /* the move of a game: a broken line */
} DiagramArrow;

typedef struct Diagram {
    const char *id; /* letters, digits and -, unique on the page */
    const Position *position;
    const ps_analysis *analysis; /* of the position; null for a board without marks */
    bool flip;                   /* Black below */
    const DiagramArrow *arrows;
    int arrow_count;
    const char *caption; /* null for none */
} Diagram;

/* The men, the patterns and the style that all diagrams of a page use. A box of the class "squares" after a diagram,
 * in a box that is as large as the diagram, lies over its squares, in eight rows of eight. */
void diagram_definitions(FILE *out);

/* A figure: the board, its description in words for those who cannot see it, the caption. */
void diagram_write(FILE *out, const Diagram *diagram);

/* What the marks mean. */
void diagram_legend(FILE *out);

/* The squares that ps_plan.room of a side counts, none without a plan. */
Bitboard diagram_room(const Position *position, const ps_analysis *analysis, ps_side side);

#endif
