/* What tells one engine from another for the record: how it plays and what it was made from, not by which
 * compiler. */
#ifndef PAWNVANE_FINGERPRINT_H
#define PAWNVANE_FINGERPRINT_H

#include "bench/play/arm.h"

enum { FINGERPRINT_SIZE = 128 };

/* Version and fingerprint of the engine built in: a hash of the moves, scores and node counts of fixed
 * searches, which most changes of its play change, and the hash of its sources, for those that act deeper or in
 * how a game is scored. Takes a small fraction of a second. False if memory runs out. */
bool fingerprint_built_in(char text[FINGERPRINT_SIZE]);

/* Name and fingerprint of the program of an arm: a hash of the file. False on failure (reported), and if the program
 * cannot be what the arm asks for. */
bool fingerprint_program(const Arm *arm, char text[FINGERPRINT_SIZE]);

#endif
