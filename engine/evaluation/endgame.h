/* Endgame knowledge: what cannot be won, and where a bare king is mated. */
#ifndef PAWNVANE_ENDGAME_H
#define PAWNVANE_ENDGAME_H

#include "engine/evaluation/weights.h"
#include "engine/rules/position.h"

/* A score for White, in centipawns, as it is if the exact tables know the ending or what is left is known to be drawn
 * or nearly so; in any other position the score that was given. */
int endgame_score(const Position *p, int score);

/* Whether a lone king holds the corner of a rook's pawn against the wrong bishops, or without any: nothing drives him
 * away, for no bishop gives check in the corner, and from beside it he can always go back. */
bool endgame_is_drawn(const Position *p);

/* Out of CHANCES_FULL: how much of an advantage in the endgame that side can turn into a win by its
 * pawns and bishops. */
int endgame_chances(const Position *p, const EvalUnits *units, Side side);

/* In centipawns: how far that side has driven a bare king towards where it is mated; 0 if there is none. */
int endgame_drive(const Position *p, Side side);

#endif
