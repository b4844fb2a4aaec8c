/* Set by common practice. No fit has gained anything. One to 1,200 games (pawnvane-bench fit --games 1200
 * --nodes 1000 --seed 701 --openings bench/openings/strata.epd --sample FILE; then --sample FILE --every 3
 * --prior 15), of these and all other weights, changes the log-loss of the games held out from 0.53981 to
 * 0.53998: by +0.0002 with a standard error of 0.0025 by games. An earlier one was called a fit to 9,000
 * games. It was one to 1,200, each seven or eight times over, since from one opening the engine plays one
 * game: so the games weighed seven to eight times as much against the prior as they should have, and the
 * log-losses told then, 0.56111 and with these weights 0.56116, were of some 240 games and came without an
 * error. Its weights made -4 Elo (-21 to +13) in 400 pairs at 6,000 nodes. */
#include "structure/structure.h"

const ps_weights ps_default_weights = {
    .base_lever = {28, 26, 20, 14, 9, 5, 2, 0},
    .head_lever = {14, 13, 10, 7, 4, 2, 1, 0},
    .support = 2,
    .room = 4,
    .piece = 1,
    .grade = {[PS_VOID] = 0, [PS_DOUBTFUL] = 25, [PS_LIKELY] = 70, [PS_FIRM] = 100},
};
