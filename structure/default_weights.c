/* Tuned by games, so that the engine carries its plan out: the lever tables have little for a lever that one
 * has, and much for one that has been played. By pawnvane-bench duel --nodes 1000 --weight W:0, 400 pairs each from openings
 * of the strata, the lever that the plan names was played, where the verdict is `applies`, so many times as
 * often as at weight 0 (of 448 and 437 sides; with 95 % intervals):
 *
 *     base lever by tempi    openings  weight 100            Elo              weight 400            Elo
 *     28 26 20 14 9 5 2 0    odd       1.13 (0.99 to 1.29)  -21 (-43 to  +1)
 *     60 20 16 12 8 4 2 0    odd       1.47 (1.30 to 1.66)   -1 (-23 to +21)  1.80 (1.58 to 2.05)  -50 (-73 to -28)
 *     60 20 16 12 8 4 2 0    even      1.60 (1.39 to 1.84)  -15 (-36 to  +7)
 *
 * Head levers are worth half of that, and the other weights are set by common practice. No fit to results of
 * games has gained anything: what a plan is worth is not what makes the engine follow it. */
#include "structure/structure.h"

const ps_weights ps_default_weights = {
    .base_lever = {60, 20, 16, 12, 8, 4, 2, 0},
    .head_lever = {30, 10, 8, 6, 4, 2, 1, 0},
    .support = 2,
    .room = 4,
    .piece = 1,
    .grade = {[PS_VOID] = 0, [PS_DOUBTFUL] = 25, [PS_LIKELY] = 70, [PS_FIRM] = 100},
};
