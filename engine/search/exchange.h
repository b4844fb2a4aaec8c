/* What a capture wins or loses when both sides go on taking on that square with their least valuable man
 * first: the static exchange evaluation. Pins are ignored. */
#ifndef PAWNVANE_EXCHANGE_H
#define PAWNVANE_EXCHANGE_H

#include "engine/rules/position.h"

/* Whether the exchange that a legal move begins yields at least `threshold` centipawns for the mover. */
bool exchange_at_least(const Position *p, Move move, int threshold);

extern const int exchange_values[1 + ROLE_COUNT]; /* NO_ROLE first */

/* The value it reckons with for a man of that role, in centipawns; 0 for none. */
static inline int exchange_value(Role role)
{
    return exchange_values[1 + role];
}

#endif
