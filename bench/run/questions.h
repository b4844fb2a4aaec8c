/* What somebody wants to know of every match beyond what it shows by itself. */
#ifndef PAWNVANE_QUESTIONS_H
#define PAWNVANE_QUESTIONS_H

#include "bench/base/command_line.h"

/* In Elo; 0 where nothing is asked. */
typedef struct Questions {
    double effect; /* how many pairs does it take to find one of this size? */
    double margin; /* are the arms equivalent within this? */
} Questions;

/* The rows of a table of options that ask. */
Option questions_effect_option(Questions *questions);
Option questions_margin_option(Questions *questions);

#endif
