/* The games of a PGN file as stories of a lesson sheet. */
#ifndef PAWNVANE_HANDOUT_GAMES_H
#define PAWNVANE_HANDOUT_GAMES_H

#include "bench/lesson/handout.h"

/* Adds the games of a file, or only one of them, by its number in the file; 0: all. Broken games are reported and
 * left out. False (reported) if the file cannot be read or ends within one of them, no game is added, or memory runs
 * out. */
bool handout_read_games(Handout *handout, const char *path, size_t wanted);

#endif
