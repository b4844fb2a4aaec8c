/* Legal moves. */
#ifndef PAWNVANE_MOVEGEN_H
#define PAWNVANE_MOVEGEN_H

#include "engine/rules/position.h"

/* No legal position is known with more than 218 moves (common practice, no source). */
enum { MOVES_MAX = 256 };

typedef struct MoveList {
    int count;
    Move moves[MOVES_MAX];
} MoveList;

static inline bool move_list_has(const MoveList *list, Move move)
{
    for (int i = 0; i < list->count; i++)
        if (list->moves[i] == move)
            return true;
    return false;
}

/* Every legal move, in an order that depends on the position alone. */
void movegen_all(const Position *p, MoveList *list);

/* The two halves of movegen_all(): captures and promotions; everything else. */
void movegen_tactical(const Position *p, MoveList *list);
void movegen_quiet(const Position *p, MoveList *list);

/* The number of legal moves, without listing them. */
int movegen_count(const Position *p);

/* Whether there is a legal move at all. */
bool movegen_any(const Position *p);

/* Whether any 16 bits are a legal move here. */
bool movegen_is_legal(const Position *p, Move move);

/* Whether the side to move is in check. */
static inline bool position_in_check(const Position *p)
{
    return position_checkers(p) != 0;
}

/* Leaves of the tree of legal moves to that depth (1 is the number of legal moves, 0 is 1). */
uint64_t perft(const Position *p, int depth);

#endif
