/* What happens to the plans of both sides in a game, in sentences, one for each change. */
#ifndef PAWNVANE_PLAN_NOTES_H
#define PAWNVANE_PLAN_NOTES_H

#include "engine/spar/sparring.h"

enum { PLAN_NOTE_SIZE = 200, PLAN_NOTES_MAX = 16 };

typedef struct PlanNote {
    int ply; /* after so many plies of the game */
    char text[PLAN_NOTE_SIZE];
} PlanNote;

/* What is remembered of a side's lever. */
typedef struct PlanMemory {
    ps_lever lever;  /* while it is live and not yet played; its square is PS_NO_SQUARE without one */
    bool told_ready; /* once is enough */
    int ready_moves; /* how often it could have been played and was not */
} PlanMemory;

typedef struct PlanNotes {
    int ply;
    PlanMemory side[2]; /* by Side */
    int count;
    PlanNote list[PLAN_NOTES_MAX]; /* the latest, in their order */
} PlanNotes;

/* Begins a game: the plans that are there at the start are noted. */
void plan_notes_start(PlanNotes *notes, const Position *start);

/* Notes what a legal move changes. */
void plan_notes_move(PlanNotes *notes, const Position *before, Move move);

/* Why a move was preferred to the best one and what that costs; empty if it is the best. */
void plan_notes_choice(const Position *root, Move chosen, const SparChoice *choice,
                       char text[PLAN_NOTE_SIZE]);

#endif
