/* Reads collections of games on several threads and hands out what each game shows, in the order of the
 * input. What a game shows is the caller's: a record of a fixed size that is filled on a thread while the game is
 * read, and used on the calling thread. Broken games are reported and left out. */
#ifndef PAWNVANE_PGN_SURVEY_H
#define PAWNVANE_PGN_SURVEY_H

#include "bench/base/progress.h"
#include "bench/pgn/pgn.h"

enum { PGN_SHARES_MAX = 1000000 };

/* The games to be read, and what became of them. */
typedef struct PgnCollection {
    const char *const *paths; /* "-" is the standard input */
    int path_count;
    int workers;
    /* Games number `share`, `share` + `shares`, ... of the whole input, 1 for the first. */
    size_t share, shares;
    Progress *progress; /* shown while they are read; null for nobody */
    /* Set: games that were used, broken ones, and whether a file ends within one. */
    size_t games, skipped;
    bool cut;
} PgnCollection;

typedef struct PgnSurvey {
    PgnCollection *collection;

    /* Watching, on many threads at once: a watch sees one game after the other. Its bytes begin as those of
     * `watch`. `end` moves what the game shows to the record, whose bytes are zero; false if memory ran out.
     * `watch_free` may be null. */
    const void *watch;
    size_t watch_size, record_size;
    void (*begin)(void *watch, const PgnGame *game);
    void (*move)(void *watch, const PgnGame *game, Move move);
    bool (*end)(void *watch, const PgnGame *game, void *record);
    void (*watch_free)(void *watch);
    void (*record_free)(void *record); /* what it holds; may be null */

    /* Using, on the calling thread. */
    void *context;
    /* `number` is the game's within its file, from 1. The record is freed afterwards. False ends it. */
    bool (*game)(void *context, const char *file, size_t number, void *record);
} PgnSurvey;

/* False if a file cannot be read or memory runs out (reported), or if game() ended
 * it. What was good up to there has been handed out. */
bool pgn_survey(const PgnSurvey *survey);

/* Reads "K/N" as the share; false if it is none (reported). */
bool pgn_read_share(const char *text, PgnCollection *collection);

#endif
