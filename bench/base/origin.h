/* Which command made a file, as the file itself says it: in the comment above data that the programs are built from, and in
 * the first line of a sample. */
#ifndef PAWNVANE_ORIGIN_H
#define PAWNVANE_ORIGIN_H

#include <stdio.h>

/* A command, or several, joined by " + "; what is longer is cut. Empty if it is not known. */
enum { ORIGIN_SIZE = 2048 };

/* The program's name and the arguments. */
void origin_of_arguments(int argc, char **argv, char origin[ORIGIN_SIZE]);

/* Adds the command that the first line of a file names behind `prefix`, if it does. */
void origin_add_of_file(char origin[ORIGIN_SIZE], const char *path, const char *prefix);

/* Begins the comment above data in C: it tells clang-format to let them be, and names the command, and those that
 * made the sample, if they are known and others. The comment is left open, at the beginning of a line. */
void origin_begin_comment(FILE *out, const char *command, const char *sample);

#endif
