#include "engine/search/correction.h"

enum { UNIT = 256, LIMIT = 64 * UNIT };

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
    enum { MOST = 256, DEEPEST = 15 };
    int32_t *means[CORRECTION_KINDS];
    int count = means_of(c, parameters, position, means);
    int weight = 1 + (depth < DEEPEST ? depth : DEEPEST);
    difference = difference < -MOST ? -MOST : difference > MOST ? MOST : difference;
    for (int i = 0; i < count; i++) {
        int32_t mean = *means[i];
        mean = mean * (256 - weight) / 256 + difference * weight * UNIT / 256;
        mean = mean < -LIMIT ? -LIMIT : mean > LIMIT ? LIMIT : mean;
        *means[i] = mean;
    }
}
