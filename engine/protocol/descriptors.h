/* The descriptors that every program expects to be open: standard input, output and error output. */
#ifndef PAWNVANE_DESCRIPTORS_H
#define PAWNVANE_DESCRIPTORS_H

#include <stdbool.h>

/* Opens those of descriptors 0 to 2 that the caller has closed on the null device, the wrong way round, so
 * that to use them fails as it would have failed before. Otherwise the next file that is opened would get
 * such a number, and what is meant for people would be written into it. To be called before anything else.
 * False, with errno set, if that device cannot be opened. */
bool descriptors_hold(void);

#endif
