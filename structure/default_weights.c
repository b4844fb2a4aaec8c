/* Set by common practice. A fit (pawnvane-bench fit --games 9000 --nodes 1000 --seed 701 --openings
 * bench/openings/strata.epd; then --every 3 --prior 15) moved them little and gained nothing: log-loss of the
 * games held out 0.56111, with these 0.56116; in games -4 Elo (-21 to +13), 400 pairs at 6,000 nodes. */
#include "structure/structure.h"

const ps_weights ps_default_weights = {
    .base_lever = {28, 26, 20, 14, 9, 5, 2, 0},
    .head_lever = {14, 13, 10, 7, 4, 2, 1, 0},
    .support = 2,
    .room = 4,
    .piece = 1,
    .grade = {[PS_VOID] = 0, [PS_DOUBTFUL] = 25, [PS_LIKELY] = 70, [PS_FIRM] = 100},
};
