/* The story of a game on a page. */
#ifndef PAWNVANE_STORY_PAGE_H
#define PAWNVANE_STORY_PAGE_H

#include "bench/lesson/story.h"

#include <stdio.h>

/* A game as it stands on the sheet. */
typedef struct StoryEntry {
    int number;         /* on the sheet, 1 for the first */
    const char *name;   /* who played, and where */
    const char *result; /* as in PGN: "1-0", "*" */
    const Story *story;
    int lines; /* to write on */
} StoryEntry;

/* The game up to its first locked chain, the bare position, and lines to write on. */
void story_page_task(FILE *out, const StoryEntry *entry, bool flip);

/* Whether a game has a task. */
bool story_page_has_task(const StoryEntry *entry);

/* The whole story, with a diagram at each turning point. */
void story_page_answer(FILE *out, const StoryEntry *entry, bool flip);

#endif
