/* How likely a move is to raise alpha: one number, from which follows whether the move is searched at all, and how
 * deep.
 *
 * The chance is a logistic regression on what is known of a move: a sum of tables, in hundredths of log-odds (natural
 * logarithm). To let the likelihood of a move rule its depth is the method of Y. Tsuruoka, D. Yokoyama and
 * T. Chikayama, "Game-Tree Search Algorithm Based on Realization Probability", ICGA Journal 25(3), 2002. That the
 * static score behind the move says most of it, and the tables, are what our own searches have shown (chance.c). */
#ifndef PAWNVANE_CHANCE_H
#define PAWNVANE_CHANCE_H

#include <stdbool.h>

typedef enum MoveSort {
    SORT_QUIET,
    SORT_KILLER,
    SORT_OLDER_KILLER,
    SORT_COUNTER,
    SORT_CAPTURE, /* or promotion */
    SORT_LOSING_CAPTURE,
    SORT_COUNT
} MoveSort;

/* How the man that moves stands: attacked by nobody, by somebody, by a lesser man. */
typedef enum Origin { FROM_SAFE, FROM_ATTACKED, FROM_LESSER, ORIGIN_COUNT } Origin;

/* What the exchange says of where it goes: attacked by nobody, nothing is lost, at most so much is lost, more. */
typedef enum Goal { TO_SAFE, TO_HELD, TO_LOSE_PAWN, TO_LOSE_PIECE, TO_LOSE_MORE, GOAL_COUNT } Goal;

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

#endif
