/* A lesson sheet: positions and games, collected first, then written as a page and as PGN. */
#ifndef PAWNVANE_HANDOUT_H
#define PAWNVANE_HANDOUT_H

#include "bench/base/progress.h"
#include "bench/lesson/lesson.h"
#include "bench/lesson/notes.h"
#include "bench/lesson/story.h"
#include "bench/pgn/epd.h"

#include <stdio.h>

/* A tag of a game. */
typedef struct HandoutTag {
    char *name, *value;
} HandoutTag;

/* A game to be added. */
typedef struct HandoutGame {
    Position start;
    int ply_count;
    const Move *moves;  /* NO_MOVE is a null move */
    const char *result; /* as PGN writes it; a constant */
    int tag_count;
    const HandoutTag *tags; /* in their order */
    Notes *notes;           /* of its author, taken over; null for none */
} HandoutGame;

typedef struct HandoutItem {
    char *name;       /* what the sheet calls it; null for none */
    char *named_best; /* of a position, null for none */
    char *remark;     /* of a position, null for none */
    Move played;      /* of a position, NO_MOVE if that is not known */
    bool skeleton;    /* pawns without kings: nothing to search, and nothing that PGN could have */
    Lesson *lesson;   /* of a position, null for a game; until it is studied it has the position alone */
    Position start;   /* of a game, */
    int ply_count;    /* and its moves, until its story is made */
    Move *moves;
    Story story;        /* of a game */
    const char *result; /* of a game, as PGN writes it */
    int tag_count;
    HandoutTag *tags; /* of a game, in their order */
    Notes notes;      /* of the author of a game; the sheet as PGN has them, too */
} HandoutItem;

typedef struct Handout {
    const char *title;
    LessonSettings settings;
    bool pupils; /* tasks first, answers on a separate sheet */
    bool quiz;   /* a page that asks: of a game, its first position with a direction for the side to move */
    bool flip;
    bool findings;      /* findings_words at the foot */
    int per_page;       /* tasks, and short answers, on a sheet of paper: 1, 2, 4 or 6; 0: as many as fit */
    bool brief;         /* short answers to positions */
    bool hide_names;    /* on the tasks */
    int numbers_before; /* the first item has the next number */
    const char *index;  /* a page that the sheet leads to at its beginning; null for none */
    Player *player;
    int count;
    size_t capacity;
    HandoutItem *items;
} Handout;

/* Add a position or a game, without a search yet. False if memory runs out. */
bool handout_add_position(Handout *handout, const EpdRecord *record);
bool handout_add_game(Handout *handout, const HandoutGame *game);

/* Searches everything that was added: the sheet can then be written. With no nodes in the settings nothing is searched,
 * and the sheet says what needs no search. False if memory runs out. */
bool handout_study(Handout *handout, Progress *progress);

/* The same for one item, which may have been studied before. The progress may be null. */
bool handout_study_item(Handout *handout, int item, Progress *progress);

/* What stands at the end of a sheet. */
extern const char handout_closing[];

/* Frees the items, not the player. */
void handout_free(Handout *handout);

/* Of a quiz: whether there is anything to ask, after it has been studied. */
bool handout_has_questions(const Handout *handout);

/* Writes the whole sheet as HTML (handout.c), and as annotated PGN (handout_pgn.c): positions become games
 * that begin there, with the breaks as variations; games keep what their authors wrote, before which the
 * sheet has nothing to say: where an author has judged a move, it does not. */
void handout_write_page(FILE *out, const Handout *handout);
void handout_write_pgn(FILE *out, const Handout *handout);

/* One of these into a file. False on failure, which is reported. */
bool handout_write_file(const char *path, const Handout *handout, void (*write)(FILE *, const Handout *));

#endif
