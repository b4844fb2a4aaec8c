/* Joins files of one experiment that was played in shares. */
#ifndef PAWNVANE_STORE_MERGE_H
#define PAWNVANE_STORE_MERGE_H

#include <stdbool.h>

/* Makes a new file with the games of all parts; it is as if one process had played them, and duel or sweep
 * can go on with it if games are missing. Refuses parts of different experiments, and two that have a game in
 * common. On failure (reported) there is no new file. */
bool store_merge(const char *path, char *const *parts, int count);

#endif
