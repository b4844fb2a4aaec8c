/* What the structure says, for people: all of it, and in one line. */
#ifndef PAWNVANE_ANSWER_H
#define PAWNVANE_ANSWER_H

#include "engine/rules/position.h"
#include "structure/structure.h"

/* The sentences of ps_explain(), in which pieces have their names. */
void answer_in_full(const Position *position, const ps_analysis *analysis, char *text, size_t size);

enum { ANSWER_SIZE = 256 };

/* What each side does by the rule, the side to move first, as a teacher would say it in passing:
 *
 *     Black: break with g4. White: c5 is barred; look at f4. */
void answer_in_short(const Position *position, const ps_analysis *analysis, char text[ANSWER_SIZE]);

/* A state of a lever and a near miss, in words for tables. */
const char *answer_status(ps_status status);
const char *answer_near_miss(ps_near_miss near_miss);

/* "d- and e-files" */
void answer_files(int first, int last, char *text, size_t size);

#endif
