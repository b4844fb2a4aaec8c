/* Whole numbers in texts. */
#ifndef PAWNVANE_NUMBER_H
#define PAWNVANE_NUMBER_H

#include <stdbool.h>
#include <stdint.h>

/* Reads a whole number within bounds that is all of the text. False, and *number stays, if it is not. */
bool read_number(const char *text, int64_t least, int64_t greatest, int64_t *number);

#endif
