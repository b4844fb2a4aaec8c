/* The tables of chances as C source: what a fit writes is what the programs are built from. */
#ifndef PAWNVANE_CHANCE_OUTPUT_H
#define PAWNVANE_CHANCE_OUTPUT_H

#include "bench/chance/chance_fit.h"

/* engine/search/chance_tables.c. `command` is the one that fits, `sample` the one that made the sample, empty if that is not
 * known. On failure (reported) what was at `path` is unchanged. */
bool chance_write(const char *path, const ChanceTables *tables, const ChanceReport *report,
                  const char *command, const char *sample);

#endif
