/* The structure of a position, for people. */
#ifndef PAWNVANE_EXPLAIN_H
#define PAWNVANE_EXPLAIN_H

#include "bench/pgn/epd.h"

/* Prints the answer in one line, the diagram, the sentences, both sides' plans and breaks, and what the lever term is made of. */
void explain_print(FILE *out, const EpdRecord *record);

/* Prints the same structure as one line of JSON (json_structure.h). False if memory runs out. */
bool explain_print_json(FILE *out, const EpdRecord *record);

#endif
