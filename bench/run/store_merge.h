/* Joins files of one experiment that was played in shares. */
#ifndef PAWNVANE_STORE_MERGE_H
#define PAWNVANE_STORE_MERGE_H

#include <stdbool.h>

/* Makes a new file with the games of all parts; it is as if one process had played them. Refuses parts of
 * different experiments, and two that have a pair in common. If games are missing it is refused as well, unless
 * `partial` allows that: then the file is marked as partial, and can be a part itself, or duel or sweep can go on
 * with it. On failure (reported) there is no new file.
 *
 * Time grows with the games; memory is that of a few games, and some bytes a part. */
bool store_merge(const char *path, char *const *parts, int count, bool partial);

#endif
