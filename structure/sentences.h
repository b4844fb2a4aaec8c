/* The sentences of ps_explain(), for a caller that knows the pieces by name. */
#ifndef PAWNSTRUCTURE_SENTENCES_H
#define PAWNSTRUCTURE_SENTENCES_H

#include "structure/structure.h"

/* What the man on a square is called, "knight". */
typedef const char *ManName(const void *host, int square);

/* As ps_explain(); `name` gets the host of the board. Null: pieces are called pieces. */
size_t explain_with_names(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board,
                          ManName *name);

#endif
