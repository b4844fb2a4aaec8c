/* Private to structure/: what a lever scores, and which one does. */
#ifndef PAWNVANE_STRUCTURE_TERM_H
#define PAWNVANE_STRUCTURE_TERM_H

#include "structure/plan.h"

/* What a lever stands for: to be scored for its side. */
typedef struct Stake {
    ps_lead lead;
    ps_break_kind lever;
    ps_grade grade;
} Stake;

extern const ps_side_term no_side_term;

/* Single moves and men in the way, without regard to support. */
int ps_count_blocked_steps(const ps_board *board, Side side, const ps_lead *lead);

/* What a live lever scores for its side; `blocked` is what ps_count_blocked_steps() says. */
ps_side_term ps_score_live(const Stake *stake, const ps_board *board, const ps_weights *weights, Side side,
                           int blocked);

/* What a lever scores that nobody can stop any more. */
ps_side_term ps_score_done(const Stake *stake, const ps_board *board, const ps_weights *weights, Side side);

/* Among levers with equal claims the best score counts, not the first on the board: the term must not change when the
 * wings are changed round. The parts decide between equal sums, so that they do not change either. Positive
 * if the first is better, 0 if they are the same. */
int ps_compare_scores(const ps_side_term *term, const ps_side_term *other);

/* What the position says of a side; `leads` is the set of the numbers of the leads that score so. */
ps_side_term ps_score_side(const ps_skeleton *skeleton, const ps_board *board, const ps_weights *weights,
                           Side side, unsigned *leads);

int ps_sum_sides(const ps_side_term sides[SIDE_COUNT], Side to_move);

#endif
