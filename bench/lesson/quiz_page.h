/* Positions as a quiz on a page: it asks for the wing to which the chain of the side to move points, and for the
 * lever that the direction names; says right or wrong and why; and counts. It needs no network. Without scripts it is
 * a page of positions, each with an answer to unfold. */
#ifndef PAWNVANE_QUIZ_PAGE_H
#define PAWNVANE_QUIZ_PAGE_H

#include "bench/lesson/lesson_page.h"

/* What the questions need, once a page, before the first position, and what runs them, after the last. */
void quiz_page_begin(FILE *out);
void quiz_page_end(FILE *out);

/* A position with both questions. */
void quiz_page_position(FILE *out, const LessonEntry *entry, bool flip);

#endif
