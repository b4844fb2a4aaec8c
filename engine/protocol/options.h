/* The options that the protocol offers, in one table. */
#ifndef PAWNVANE_OPTIONS_H
#define PAWNVANE_OPTIONS_H

#include "engine/spar/sparring.h"

#include <stdio.h>

typedef struct Options {
    int hash_mib;
    int threads;
    int lines;
    int lever_weight;
    ps_rule lever_rule;
    bool plan_notes;
    SparStyle spar_style;
    int spar_margin;
    bool limit_strength;
    int elo;       /* counts if the strength is limited */
    int spar_seed; /* of its errors; -1: another one in each game */
    bool chess960;
    int clock_reserve;
    bool ponder;       /* the client may ponder; changes nothing here */
    bool analyse_mode; /* the client analyses; changes nothing here */
} Options;

void options_defaults(Options *options);

/* Writes an "option name ..." line for each option. */
void options_print(FILE *out);

typedef enum OptionError { OPTION_SET, OPTION_UNKNOWN, OPTION_BAD_VALUE, OPTION_REFUSED } OptionError;

/* What is wrong, in a few English words. */
const char *option_error_text(OptionError error);

/* Sets an option by the texts of the protocol (names in any case; value null for a button) and tells the
 * player. On failure everything stays as it was. */
OptionError options_set(Options *options, Player *player, const char *name, const char *value);

#endif
