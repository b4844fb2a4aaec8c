/* Games of a run as portable game notation (S. Edwards, PGN standard, 1994), in export format. */
#ifndef PAWNVANE_RUN_PGN_H
#define PAWNVANE_RUN_PGN_H

#include "bench/run/stored_run.h"

/* Writes every game of a run, in the order of match, pair and half. False on failure (reported); the file is
 * then as it was. */
bool run_pgn_write(const char *path, const Database *database);

#endif
