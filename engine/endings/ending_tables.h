/* What is known exactly of the smallest endings: a pawn, a rook or a queen against the king alone, rook against pawn,
 * queen against rook. The fifty-move rule is not looked at. */
#ifndef PAWNVANE_ENDING_TABLES_H
#define PAWNVANE_ENDING_TABLES_H

#include "engine/rules/position.h"

/* For the side that has more. */
typedef struct KnownEnding {
    Side side;
    int value;      /* 1 won, 0 drawn, -1 lost; queen against rook: 0 not won */
    int mate_plies; /* until mate if it is won by a queen or a rook without pawns; else -1 */
    bool exact;     /* false for queen against rook that is not won: the rook's side may win */
} KnownEnding;

/* False if the position is none of them. */
bool ending_known(const Position *position, KnownEnding *known);

/* Where mate_plies is told: the move that mates soonest, or is mated latest. NO_MOVE if there is none. */
Move ending_move(const Position *position);

#endif
