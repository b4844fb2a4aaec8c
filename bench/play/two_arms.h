/* The options by which a command is told of two arms, beside their limits. */
#ifndef PAWNVANE_TWO_ARMS_H
#define PAWNVANE_TWO_ARMS_H

#include "bench/base/command_line.h"
#include "bench/play/arm.h"

enum { TWO_ARMS_OPTION_COUNT = 5 };

typedef struct TwoArms {
    char weight[16]; /* the default, as a text */
    const char *weights, *rules, *engines[2];
    TextList parameters;
} TwoArms;

/* Fills that many rows of a table of options; `given` gets their defaults, then their values. */
void two_arms_options(TwoArms *given, Option table[TWO_ARMS_OPTION_COUNT]);

/* Makes the arms from the values. False on failure, in one line that begins with the command's name. */
bool two_arms_read(const TwoArms *given, const char *command, Arm arms[2]);

#endif
