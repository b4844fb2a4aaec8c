/* What is printed of how near two searches come to a deep one. */
#ifndef PAWNVANE_NEARER_PRINT_H
#define PAWNVANE_NEARER_PRINT_H

#include "bench/nearer/nearer.h"
#include "bench/play/arm.h"

#include <stdio.h>

/* What stands in the help, too. */
#define NEARER_CAUTION                                                                                       \
    "A search that errs as the deep one does looks near; what gains here is confirmed by games."

/* `arms` are by NearerSearch; `engine` made the deep searches that are kept, empty for none. `by_game` says what the units are. */
void nearer_print(FILE *out, const Arm arms[NEARER_SEARCHES], const char *engine,
                  const NearerSummary *summary, bool by_game);

/* One line for each number. */
void nearer_print_csv(FILE *out, const NearerSummary *summary);

/* False if memory runs out. */
bool nearer_print_json(FILE *out, const Arm arms[NEARER_SEARCHES], const char *engine,
                       const NearerSummary *summary, bool by_game);

#endif
