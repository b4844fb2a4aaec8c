/* How likely a move is to raise alpha: one number, from which follows whether the move is searched at all, and how
 * deep.
 *
 * The chance is a logistic regression on what is known of a move: a sum of tables, in hundredths of log-odds (natural
 * logarithm). To let the likelihood of a move rule its depth is the method of Y. Tsuruoka, D. Yokoyama and
 * T. Chikayama, "Game-Tree Search Algorithm Based on Realization Probability", ICGA Journal 25(3), 2002. That the
 * static score behind the move says most of it, and the tables, are what our own searches have shown (chance_tables.c). */
#ifndef PAWNVANE_CHANCE_H
#define PAWNVANE_CHANCE_H

#include "engine/search/chance_tables.h"

#include <stdbool.h>

/* The chance by a move's traits is the sum of three parts. The first: by the depth of the node, the number in the order
 * (from 2 on: the first move is beyond doubt) and the history. */
int chance_by_order(int depth, int number, int history, bool quiet);
int chance_by_sort(MoveSort sort, bool gives_check);
int chance_by_squares(Origin origin, Goal goal);

/* What the static score says before the move or behind it: `gap` is what the mover misses alpha by, in centipawns,
 * CHANCE_NO_GAP where somebody is in check. */
enum { CHANCE_NO_GAP = 32000 };
int chance_before_move(int depth, int gap);
int chance_behind_move(int depth, int gap);

/* All that the tables ask of a move, and the cells that it has in them, 0 .. CHANCE_CELLS - 1: what a fit must know. */
typedef struct ChanceMove {
    int32_t history;
    int16_t gap_before, gap_behind;
    uint8_t depth, number;
    uint8_t sort, origin, goal; /* as the enumerations have them */
    bool gives_check;
} ChanceMove;

typedef enum ChanceLookup {
    CHANCE_BY_NUMBER,
    CHANCE_BY_HISTORY,
    CHANCE_BY_SQUARES,
    CHANCE_BY_SORT,
    CHANCE_BY_GAP_BEHIND,
    CHANCE_BY_GAP_BEFORE,
    CHANCE_LOOKUPS
} ChanceLookup;

void chance_cells(const ChanceMove *move, int cells[CHANCE_LOOKUPS]);

#endif
