/* When a game is scored before it is over, as an option says it. */
#ifndef PAWNVANE_ADJUDICATION_H
#define PAWNVANE_ADJUDICATION_H

#include "bench/play/play.h"

/* What default_adjudication says, which holds where nothing else is said. */
#define ADJUDICATION_DEFAULT "won=800/6,drawn=10/12/80,longest=400"

/* Reads what an option says: parts between commas, "won=CENTIPAWNS/PLIES", "drawn=CENTIPAWNS/PLIES/FROM",
 * "longest=PLIES", the first two also "never"; a part that is not there leaves the limits as they are. False if
 * it says something else (reported); then the limits mean nothing. */
bool adjudication_read(const char *text, Adjudication *limits);

#endif
