/* A sheet in pages: a folder with one for each position and game, and an index of them. */
#ifndef PAWNVANE_HANDOUT_PAGES_H
#define PAWNVANE_HANDOUT_PAGES_H

#include "bench/lesson/handout.h"

/* Writes FOLDER/index.html, which leads to FOLDER/1.html, 2.html and so on. At first all of them are written as far
 * as they need no search, so that there is something to read at once; then each is studied and written again. The
 * folder is made if there is none. False on failure, which is reported. */
bool handout_write_pages(Handout *handout, const char *folder, Progress *progress);

/* "FOLDER/index.html". Null if memory runs out. */
char *handout_index_path(const char *folder);

#endif
