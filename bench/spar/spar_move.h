/* A move as a pupil types it: in standard notation, with small letters for pieces too, or by its two squares. */
#ifndef PAWNVANE_SPAR_MOVE_H
#define PAWNVANE_SPAR_MOVE_H

#include "engine/rules/notation.h"

/* The typed text has less bytes than the first, what is said of it less than the second. */
enum { SPAR_TYPED_SIZE = 256, SPAR_PROBLEM_SIZE = 128 };

/* False if the text is not one legal move. Then it is said why, so that it can follow the text: "is not a legal move
 * here", "can be Nbd2 or Nfd2". */
bool spar_move_read(const Position *position, const char *typed, Move *move, char problem[SPAR_PROBLEM_SIZE]);

#endif
