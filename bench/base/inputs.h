/* Files to read, looked at before the first of them is read: a name that was mistyped should not be found out an hour
 * later, and costs only itself. */
#ifndef PAWNVANE_INPUTS_H
#define PAWNVANE_INPUTS_H

#include <stdbool.h>

/* Moves the paths of what can be read to the front, in their order, "-" among them, and returns how many these are. Each
 * other one is reported in one line. */
int inputs_sift(char **paths, int count);

/* Whether a file may be written there that has not what all inputs would have given: it must not take the place of
 * another, which is reported. A null path is no file. */
bool inputs_allow_partial(const char *path);

#endif
