#include "engine/search/correction.h"

#include "engine/evaluation/clamp.h"
#include "engine/search/parameters.h"

enum { UNIT = 256, LIMIT = CORRECTION_LIMIT * UNIT }; /* a centipawn; the greatest mean */

static void find_means(Corrections *c, const Position *p, int last, int32_t *means[CORRECTION_KINDS])
{
    Side us = position_turn(p), them = opposite(us);
    means[0] = &c->mean[us][0][p->pawn_key % CORRECTION_TABLE];
    means[1] = &c->mean[us][1][p->piece_key[us] % CORRECTION_TABLE];
    means[2] = &c->mean[us][2][p->piece_key[them] % CORRECTION_TABLE];
    means[3] = &c->mean[us][3][last + 1];
}

int correction_of(Corrections *c, const Position *position, int last)
{
    int32_t *means[CORRECTION_KINDS];
    int sum = 0;
    find_means(c, position, last, means);
    for (int i = 0; i < CORRECTION_KINDS; i++)
        sum += *means[i];
    return sum / UNIT;
}

void correction_learn(Corrections *c, const Position *position, int last, int difference, int depth)
{
    int32_t *means[CORRECTION_KINDS];
    find_means(c, position, last, means);
    int weight = 1 + at_most(depth, CORRECTION_DEEPEST);
    difference = clamp(difference, -CORRECTION_LESSON, CORRECTION_LESSON);
    for (int i = 0; i < CORRECTION_KINDS; i++) {
        int32_t mean = *means[i] * (CORRECTION_MEMORY - weight) / CORRECTION_MEMORY +
                       difference * weight * UNIT / CORRECTION_MEMORY;
        *means[i] = clamp(mean, -LIMIT, LIMIT);
    }
}
