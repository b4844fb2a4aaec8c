/* Fitting the tables of chances to a sample of moves: a logistic regression in which each move has one cell of each table.
 *
 * Two sums are fitted, as the search asks for two. All tables but that of the gap before a move are fitted together; then
 * that one, in the place of the gap behind the move, with the others as they are. The chance of any move is that of all, and is
 * not fitted. Newton's method (symmetric.h) finds the likeliest cells exactly; the loss is the mean negative logarithm
 * of the probability given to what became of the moves, in nats.
 *
 * What is added to all cells of one table and taken from all of another changes no chance, so that only sums mean anything; the
 * prior chooses among tables that say the same.
 *
 * A cell has a normal prior round 0, so that what few moves show does not run away, and what none shows is 0. Its variance
 * is half a unit of log-odds squared, as if the cell had been seen in some eight moves more that went either way.
 *
 * Every fifth game is held out. The moves of a game are no independent witnesses, games are: errors are by games. */
#ifndef PAWNVANE_CHANCE_FIT_H
#define PAWNVANE_CHANCE_FIT_H

#include "bench/base/means.h"
#include "bench/chance/chance_sample.h"

/* The two sums. */
typedef enum ChanceSum { SUM_BEHIND, SUM_BEFORE, CHANCE_SUMS } ChanceSum;

typedef struct ChancePart {
    size_t games, moves, raised;
    double before[CHANCE_SUMS], after[CHANCE_SUMS]; /* the loss by the tables, whole hundredths and all */
} ChancePart;

typedef struct ChanceReport {
    ChancePart fitted, held_out;
    ClusteredMean change[CHANCE_SUMS]; /* of the loss on the part held out, with its error */
    int unseen;                        /* cells that no fitted move has */
    int changed;                       /* cells, of CHANCE_CELLS */
} ChanceReport;

/* Fits the tables, which are compared with what they were, and otherwise made anew. On failure (reported: a part of the
 * sample is empty, moves that all or none raised alpha, memory runs out) they are as they were. */
bool chance_fit(ChanceTables *tables, const ChanceSample *sample, ChanceReport *report);

#endif
