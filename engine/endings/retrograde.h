/* Solves endings of three or four men by retrograde analysis: from the mates backwards, a ply at a time, until no
 * position is left that is won or lost (T. Ströhlein, "Untersuchungen über kombinatorische Spiele", 1970; K. Thompson,
 * "Retrograde Analysis of Certain Endgames", ICCA Journal 9(3), 1986).
 *
 * Only the build uses it. Castling and capture en passant do not occur with these men. */
#ifndef PAWNVANE_RETROGRADE_H
#define PAWNVANE_RETROGRADE_H

#include "engine/endings/ending_index.h"

typedef struct Man {
    Side side;
    Role role;
} Man;

/* What is known of a position: 0 drawn, or 1 and the plies until the side to move mates (odd plies) or is mated
 * (even plies) if both sides play for that; whatever the fifty-move rule says. */
typedef uint8_t Fate;

enum { FATE_DRAWN = 0, FATE_ILLEGAL = 255 };

typedef struct Ending {
    Man men[ENDING_MEN]; /* the white king, the black king, the others */
    int count;
    bool pawns;
    size_t positions;
    Fate *
        fates; /* positions with the white king on the a- to d-files, and on the first four ranks without pawns */
} Ending;

/* Solves an ending of the men behind the kings (one or two). What captures and promotions lead to must be among
 * the `known` ones unless it is drawn by its material: a king alone, a minor piece against a king. False without the
 * memory. */
bool ending_solve(Ending *ending, const Man *men, int count, const Ending *known, int known_count);

/* The squares of position number 0 .. positions - 1, in the order of the men; and whose turn it is. */
Side ending_board(const Ending *ending, size_t index, Square squares[ENDING_MEN]);

/* What is known of a position; wings, and ranks where there are no pawns, may be changed round. */
Fate ending_fate(const Ending *ending, Side turn, const Square squares[]);

#endif
