/* The one place where the version stands. */
#ifndef PAWNVANE_VERSION_H
#define PAWNVANE_VERSION_H

#define PAWNVANE_VERSION "0.5"

#endif
