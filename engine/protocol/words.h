/* The words of a line from the client, and numbers among them. */
#ifndef PAWNVANE_WORDS_H
#define PAWNVANE_WORDS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Takes the next word off a line; null at its end. Changes the line. */
char *next_word(char **rest);

/* Takes the words up to a stop word (or the end, if it is null) as one text with single spaces. */
void join_words(char **rest, const char *stop_word, char *text, size_t size);

/* Takes the next word as a number from 0 to `most`; what is greater is cut, what is less or no number is
 * 0. */
int64_t next_number(char **rest, int64_t most);

/* The same from 1 on. */
int64_t next_positive(char **rest, int64_t most);

/* Reads a text that must be a whole number within bounds, and nothing else. */
bool whole_number(const char *text, int least, int greatest, int *number);

#endif
