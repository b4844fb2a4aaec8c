/* A lesson sheet: positions and games, collected first, then written as a page
 * and as PGN. */
#ifndef PAWNVANE_HANDOUT_H
#define PAWNVANE_HANDOUT_H

#include "bench/epd.h"
#include "bench/lesson.h"
#include "bench/story.h"

#include <stdio.h>

typedef struct HandoutItem {
    char *name;       /* null for none */
    char *named_best; /* of a position, null for none */
    char *remark;     /* of a position, null for none */
    char *result;     /* of a game */
    Lesson *lesson;   /* of a position, null for a game */
    Story story;      /* of a game */
} HandoutItem;

typedef struct Handout {
    const char *title;
    LessonSettings settings;
    bool pupils; /* tasks first, answers on a separate sheet */
    bool flip;
    Player *player;
    int count, capacity;
    HandoutItem *items;
} Handout;

/* Add a position or a game. False if memory runs out. */
bool handout_add_position(Handout *handout, const EpdRecord *record);
bool handout_add_game(Handout *handout, const char *name, const char *result, const Position *start,
                      const Move *moves, int ply_count);

/* Frees the items, not the player. */
void handout_free(Handout *handout);

/* Writes the whole sheet as HTML. */
void handout_write_page(FILE *out, const Handout *handout);

#endif
