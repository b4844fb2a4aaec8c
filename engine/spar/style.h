/* How a sparring partner treats the plans of both sides. */
#ifndef PAWNVANE_STYLE_H
#define PAWNVANE_STYLE_H

#include "engine/spar/plan_effect.h"

typedef enum SparStyle {
    SPAR_NO_STYLE = -1,
    SPAR_OBJECTIVE, /* the best move */
    SPAR_FAITHFUL,  /* carries its own plan out */
    SPAR_CONTRARY,  /* breaks where the plan does not say, and gives the plan up */
    SPAR_PATIENT,   /* keeps the tension and hinders the other side's lever */
    SPAR_STYLE_COUNT
} SparStyle;

const char *spar_style_name(SparStyle style);

/* The style of that name, in small letters or capitals; SPAR_NO_STYLE if there is none. */
SparStyle spar_style_read(const char *name);

/* How much a style likes what a move does: the greater, the rather. What is worth so much more than the best move may cost
 * the whole margin, what is worth less a part of it. */
enum { SPAR_WHOLE_GAIN = 200 };
int spar_style_value(SparStyle style, const int effects[PLAN_EFFECT_COUNT]);

/* The effect that tells most for a move which a style prefers to another: what the one does or the other would have
 * done. */
PlanEffect spar_style_reason(SparStyle style, const int chosen[PLAN_EFFECT_COUNT],
                             const int other[PLAN_EFFECT_COUNT]);

#endif
