/* Comma-separated values, after RFC 4180 (lines end with a line feed alone). */
#ifndef PAWNVANE_CSV_H
#define PAWNVANE_CSV_H

#include <stdio.h>

/* Writes one field, in quotes if it needs them. The commas and line ends between fields are the caller's. */
void csv_text(FILE *out, const char *text);

/* Writes a comma and a number with six decimals, as often as said; nothing behind the comma where it is not finite. */
void csv_reals(FILE *out, const double *values, size_t count);

#endif
