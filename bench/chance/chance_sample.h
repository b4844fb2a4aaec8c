/* What the tables of chances (engine/search/chance.h) learn from: moves of searches, and whether they raised alpha.
 *
 * In a file a sample is text, a move a line, eleven whole numbers with blanks between; the first line names the command
 * that made it, the second the columns:
 *
 *     # Moves of searches and whether they raised alpha, made by: pawnvane-bench chance --games 40 --sample moves.txt
 *     # game raised depth number sort gives_check origin goal history gap_before gap_behind
 *     17 0 3 12 0 0 0 1 -3120 85 32000
 *
 * Sort, origin and goal are numbers of the enumerations in engine/search/chance_tables.h, gaps are centipawns, CHANCE_NO_GAP
 * where somebody is in check. */
#ifndef PAWNVANE_CHANCE_SAMPLE_H
#define PAWNVANE_CHANCE_SAMPLE_H

#include "bench/base/origin.h"
#include "engine/search/chance.h"

#include <stddef.h>

typedef struct SampledMove {
    ChanceMove move;
    uint32_t game; /* in whose search it was, 1 .. CHANCE_GAMES_MAX */
    bool raised;
} SampledMove;

enum { CHANCE_GAMES_MAX = 10000000 };

typedef struct ChanceSample {
    size_t count, capacity;
    SampledMove *moves;
    char origin[ORIGIN_SIZE]; /* the commands that made it */
} ChanceSample;

/* Whether a game is held out, to measure the loss on what was not fitted: every fifth is. */
bool chance_held_out(uint32_t game);

/* The greatest number of a game, 0 if there is none. */
uint32_t chance_last_game(const ChanceSample *sample);

/* Adds moves. False if memory runs out. */
bool chance_sample_add(ChanceSample *sample, const SampledMove *moves, size_t count);

/* On failure (reported) the file stays what it was. */
bool chance_sample_write(const ChanceSample *sample, const char *path);

/* Adds what is in a file ("-" is the standard input). The games of a second one are counted on from those of the first, and
 * the same ones are held out. False on failure (reported). */
bool chance_sample_read(ChanceSample *sample, const char *path);

void chance_sample_free(ChanceSample *sample);

#endif
