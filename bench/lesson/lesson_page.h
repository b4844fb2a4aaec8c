/* Lessons on a page: tasks for pupils, and answers. */
#ifndef PAWNVANE_LESSON_PAGE_H
#define PAWNVANE_LESSON_PAGE_H

#include "bench/lesson/lesson.h"

#include <stdio.h>

/* A lesson as it stands on the sheet. */
typedef struct LessonEntry {
    int number;             /* on the sheet, 1 for the first */
    const char *name;       /* where it is from, null for none */
    const char *named_best; /* moves that its source calls best, null for none */
    const char *remark;     /* what its source says about it, null for none */
    const Lesson *lesson;
    Move played; /* in the game, NO_MOVE if that is not known */
    int lines;   /* to write on, below or beside the bare position */
} LessonEntry;

/* Its number, whose turn it is, and its name; the heading's id begins with the prefix. */
void lesson_page_heading(FILE *out, const LessonEntry *entry, const char *prefix);

/* What is asked of every position: it must not give an answer away. */
void lesson_page_questions(FILE *out);

/* The bare position with lines to write on. */
void lesson_page_task(FILE *out, const LessonEntry *entry, bool flip);

/* The position with its marks, the words, the tables. */
void lesson_page_answer(FILE *out, const LessonEntry *entry, bool flip);

/* Of it the words alone: the answer first, in one line. */
void lesson_page_words(FILE *out, const LessonEntry *entry);

/* The same on little paper: the position with its marks, the answer in one line, what calculation plays, and how
 * the position is misread. */
void lesson_page_short_answer(FILE *out, const LessonEntry *entry, bool flip);

/* A row for each lever of the principal chains, and for what can still be played of other chains that are
 * not void: state, tempi, support. Nothing without such a chain. */
void lesson_page_levers(FILE *out, const ps_analysis *analysis);

#endif
