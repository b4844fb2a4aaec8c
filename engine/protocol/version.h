/* The version of the programs, which is the library's: its numbers stand there and nowhere else. */
#ifndef PAWNVANE_VERSION_H
#define PAWNVANE_VERSION_H

#include "structure/structure.h"

#define PAWNVANE_VERSION PS_VERSION

#endif
