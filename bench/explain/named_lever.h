/* The lever that a side's plan names in a position, and whether the side plays it. */
#ifndef PAWNVANE_NAMED_LEVER_H
#define PAWNVANE_NAMED_LEVER_H

#include "engine/rules/movegen.h"

/* What a plan names. Live levers of chains that are doubtful are counted by themselves. A lever that has been played, or has done
 * its work, asks for nothing. */
typedef enum NamedKind {
    NAMED_APPLIES,    /* firm or likely; the base lever is live and has not been played */
    NAMED_WEAK,       /* doubtful; the same */
    NAMED_MISLEADING, /* firm or likely; the base lever is barred or gone: there is a square, and no way to it */
    NAMED_KIND_COUNT,
    NAMED_NOTHING = NAMED_KIND_COUNT
} NamedKind;

static inline bool named_is_live(NamedKind kind)
{
    return kind == NAMED_APPLIES || kind == NAMED_WEAK;
}

typedef struct NamedLever {
    NamedKind kind;
    Square square; /* NO_SQUARE if nothing is named */
} NamedLever;

/* By Side, from the principal chains of the position; see structure/structure.h. */
void named_levers(const Position *position, NamedLever levers[2]);

/* The push by which the side to move plays its live named lever at once, if it is legal; NO_MOVE if there is none. */
Move named_lever_push(const Position *position);

/* The number of the ply, from 1 on, in which a side first pushes a pawn, without capture, to the square that is named; 0 if
 * it never does. `moves` are those of the game from `start` on. */
int named_lever_ply(const Position *start, Side side, Square square, const Move *moves, int plies);

/* Whether the plan that the side had when it made that push named the lever, live, though the plan of the start may not
 * have. `ply` is what named_lever_ply() said. */
bool named_lever_was_asked(const Position *start, Side side, Square square, const Move *moves, int ply);

#endif
