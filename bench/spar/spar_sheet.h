/* The games of a training match as a lesson sheet: a page and PGN. */
#ifndef PAWNVANE_SPAR_SHEET_H
#define PAWNVANE_SPAR_SHEET_H

#include "bench/lesson/handout.h"
#include "bench/spar/spar_match.h"

typedef struct SparSheet {
    Handout handout;
    char *html, *pgn; /* where it is written */
} SparSheet;

/* Files whose names are not given are the first spar-N.html and spar-N.pgn here that nothing else has. False on failure
 * (reported); free the sheet all the same. */
bool spar_sheet_begin(SparSheet *sheet, const char *html, const char *pgn, int nodes);

/* False if memory runs out. */
bool spar_sheet_add(SparSheet *sheet, const SparMatch *match, const char *opening);

/* Tells the stories of the games, and writes both files. False on failure (reported). */
bool spar_sheet_write(SparSheet *sheet);

void spar_sheet_free(SparSheet *sheet);

#endif
