#include "engine/spar/style.h"

#include <strings.h>

static const char *const names[SPAR_STYLE_COUNT] = {"objective", "faithful", "contrary", "patient"};

/* A tempo for the lever is worth half the margin, see SPAR_WHOLE_GAIN; to play it, all of it. */
static const int likings[SPAR_STYLE_COUNT][PLAN_EFFECT_COUNT] = {
    [SPAR_FAITHFUL] = {[EFFECT_PLAYS] = 1000,
                       [EFFECT_TAKES] = 300,
                       [EFFECT_NEARER] = 100,
                       [EFFECT_SUPPORTS] = 20,
                       [EFFECT_GIVES_UP] = -500},
    [SPAR_CONTRARY] = {[EFFECT_PLAYS] = -1000,
                       [EFFECT_NEARER] = -50,
                       [EFFECT_GIVES_UP] = 300,
                       [EFFECT_HEAD] = 600,
                       [EFFECT_ASTRAY] = 500},
    [SPAR_PATIENT] =
        {[EFFECT_RELEASES] = -400, [EFFECT_HINDERS] = 100, [EFFECT_CONTESTS] = 20, [EFFECT_SHUTS] = 300},
};

const char *spar_style_name(SparStyle style)
{
    return names[style];
}

SparStyle spar_style_read(const char *name)
{
    for (int i = 0; i < SPAR_STYLE_COUNT; i++)
        if (strcasecmp(name, names[i]) == 0)
            return (SparStyle)i;
    return SPAR_NO_STYLE;
}

int spar_style_value(SparStyle style, const int effects[PLAN_EFFECT_COUNT])
{
    int value = 0;
    for (int i = 0; i < PLAN_EFFECT_COUNT; i++)
        value += likings[style][i] * effects[i];
    return value;
}

PlanEffect spar_style_reason(SparStyle style, const int chosen[PLAN_EFFECT_COUNT],
                             const int other[PLAN_EFFECT_COUNT])
{
    PlanEffect best = NO_PLAN_EFFECT;
    int most = 0;
    for (int i = 0; i < PLAN_EFFECT_COUNT; i++) {
        int gain = likings[style][i] * (chosen[i] - other[i]);
        if (gain > most)
            best = (PlanEffect)i, most = gain;
    }
    return best;
}
