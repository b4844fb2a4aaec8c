/* What a move does to the plans of both sides: read off the structure of the position before and after it. */
#ifndef PAWNVANE_PLAN_EFFECT_H
#define PAWNVANE_PLAN_EFFECT_H

#include "engine/rules/position.h"
#include "structure/structure.h"

/* Counted for the side that moves. Its lever is the base lever of its principal chain, if that is live. */
typedef enum PlanEffect {
    NO_PLAN_EFFECT = -1,
    EFFECT_PLAYS,    /* its lever is played: 1 */
    EFFECT_TAKES,    /* its lever, which had been played, takes the pawn that it attacks: 1 */
    EFFECT_NEARER,   /* how many tempi fewer its lever needs; less than 0: more */
    EFFECT_SUPPORTS, /* how many more men its lever has for it than against it, up to one more than needed */
    EFFECT_GIVES_UP, /* its lever cannot be played any more: 1 */
    EFFECT_HEAD,     /* a break at the head of the enemy's chain: 1 */
    EFFECT_ASTRAY,   /* a break on the wing to which its chain does not point: 1 */
    EFFECT_HINDERS,  /* how many tempi more the other side's lever needs; less than 0: fewer */
    EFFECT_CONTESTS, /* how many men fewer the other side's lever has for it than against it */
    EFFECT_SHUTS,    /* the other side's lever cannot be played any more: 1 */
    EFFECT_RELEASES, /* a capture that may dissolve a lock: 1 */
    PLAN_EFFECT_COUNT
} PlanEffect;

/* The base lever of a side's principal chain if it is live; null without such a plan. It points into the analysis. */
const ps_lever *plan_live_lever(const ps_analysis *analysis, Side side);

/* The move as one of a side's breaks that are open; null if it is none. It points into the analysis. */
const ps_break *plan_break(const ps_analysis *analysis, Side side, Move move);

/* `analysis` is that of the position; the move is legal. */
void plan_effects(const Position *position, const ps_analysis *analysis, Move move,
                  int effects[PLAN_EFFECT_COUNT]);

#endif
