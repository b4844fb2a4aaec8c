/* Provisional: set by common practice, not yet fitted to games. */
#include "structure/structure.h"

const ps_weights ps_default_weights = {
    .base_lever = {28, 26, 20, 14, 9, 5, 2, 0},
    .head_lever = {14, 13, 10, 7, 4, 2, 1, 0},
    .support = 2,
    .room = 4,
    .piece = 1,
    .grade = {[PS_VOID] = 0, [PS_DOUBTFUL] = 25, [PS_LIKELY] = 70, [PS_FIRM] = 100},
};
