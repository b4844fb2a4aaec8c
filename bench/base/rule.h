/* The two readings of the rule on a command line. */
#ifndef PAWNVANE_RULE_H
#define PAWNVANE_RULE_H

#include "structure/structure.h"

#include <stdbool.h>

/* Reads the word for one. False if it is none. */
bool read_rule(const char *text, ps_rule *rule);

/* The words as the choices of an option, null behind the last: by ps_rule. */
void rule_words(const char *words[PS_RULE_COUNT + 1]);

#endif
