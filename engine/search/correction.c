#include "engine/search/correction.h"

#include "engine/evaluation/clamp.h"

enum { UNIT = 256, LIMIT = CORRECTION_LIMIT * UNIT }; /* a centipawn; the greatest mean */

static int means_of(Corrections *c, const Parameters *parameters, const Position *p,
                    int32_t *means[CORRECTION_KINDS])
{
    Side us = position_turn(p), them = opposite(us);
    int count = 0;
    if (parameters->correction)
        means[count++] = &c->mean[us][0][p->pawn_key % CORRECTION_TABLE];
    if (parameters->piece_correction) {
        means[count++] = &c->mean[us][1][p->piece_key[us] % CORRECTION_TABLE];
        means[count++] = &c->mean[us][2][p->piece_key[them] % CORRECTION_TABLE];
    }
    return count;
}

int correction_of(Corrections *c, const Parameters *parameters, const Position *position)
{
    int32_t *means[CORRECTION_KINDS];
    int count = means_of(c, parameters, position, means), sum = 0;
    for (int i = 0; i < count; i++)
        sum += *means[i];
    return sum / UNIT;
}

void correction_learn(Corrections *c, const Parameters *parameters, const Position *position, int difference,
                      int depth)
{
    int32_t *means[CORRECTION_KINDS];
    int count = means_of(c, parameters, position, means);
    int weight = 1 + at_most(depth, CORRECTION_DEEPEST);
    difference = clamp(difference, -CORRECTION_LESSON, CORRECTION_LESSON);
    for (int i = 0; i < count; i++) {
        int32_t mean = *means[i] * (CORRECTION_MEMORY - weight) / CORRECTION_MEMORY +
                       difference * weight * UNIT / CORRECTION_MEMORY;
        *means[i] = clamp(mean, -LIMIT, LIMIT);
    }
}
