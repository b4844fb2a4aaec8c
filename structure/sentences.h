/* The sentences of ps_explain(), for a caller that knows the pieces by name. */
#ifndef PAWNSTRUCTURE_SENTENCES_H
#define PAWNSTRUCTURE_SENTENCES_H

#include "structure/structure.h"

/* What the man on a square is called, "knight". */
typedef const char *ManName(const void *host, int square);

/* "six", and from thirteen on "13". */
enum { NUMBER_TEXT_SIZE = 12 };
void number_in_words(int number, char text[NUMBER_TEXT_SIZE]);

/* "one move", "six moves"; returns the text. */
enum { COUNT_TEXT_SIZE = 24 };
const char *count_in_words(int count, const char *one, const char *more, char text[COUNT_TEXT_SIZE]);

/* As ps_explain(); `name` gets the host of the board. Null: pieces are called pieces. */
size_t explain_with_names(char *buffer, size_t size, const ps_analysis *analysis, const ps_board *board,
                          ManName *name);

#endif
