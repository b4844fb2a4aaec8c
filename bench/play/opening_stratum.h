/* The strata of start positions: what the pawns of the centre say, by the strongest thing in the position. */
#ifndef PAWNVANE_OPENING_STRATUM_H
#define PAWNVANE_OPENING_STRATUM_H

#include "engine/rules/position.h"

/* The first that holds. Pairs, verdicts and near misses are those of structure/structure.h. Both sides always
 * have the same grade, because a locked chain belongs to both. */
typedef enum Stratum {
    STRATUM_FIRM_APPLIES,    /* a locked chain on d and e, and the rule applies for both sides */
    STRATUM_FIRM_MISLEADING, /* a locked chain on d and e, and it misleads at least one side */
    STRATUM_LIKELY,          /* else a locked chain on c and d, or on e and f, whatever the verdicts */
    STRATUM_DOUBTFUL,        /* else a locked chain on b and c, or on f and g */
    STRATUM_NEAR_MISS,       /* else a near miss */
    STRATUM_OPEN_CENTRE,     /* else no locked chain, no ram on d or e, and no pawn at all on d or on e */
    STRATUM_COUNT,
    STRATUM_OTHER = STRATUM_COUNT /* none of these */
} Stratum;

extern const char *const stratum_names[STRATUM_COUNT];

Stratum stratum_of(const Position *position);

#endif
