/* What a fit learns from: quiet positions of games, each with the game's result.
 *
 * In files a sample is EPD: c8 holds the number of the game, c9 its result; ce, which may be missing, what
 * the engine that played thought, in centipawns for the side to move; c7, which may be missing, the position earlier in
 * the game whose plans are in hand: missing, it is the position itself.
 *
 *     r1bqkb1r/pppp1ppp/2n2n2/4p3/4P3/2N2N2/PPPP1PPP/R1BQKB1R w KQkq - hmvc 4; fmvn 4; ce 12; c8 "17"; c9
 * "1/2-1/2";
 *
 * The lever term asks of a position how far the plans of the root of the search have been carried out. In a
 * game there is no search; the position some plies earlier stands for its root. How many plies, is how deep a search
 * looks: see FIT_PLIES_BACK. */
#ifndef PAWNVANE_FIT_SAMPLE_H
#define PAWNVANE_FIT_SAMPLE_H

#include "bench/base/origin.h"
#include "bench/play/play.h"

#include <stddef.h>
#include <stdio.h>

typedef struct FitPosition {
    Position position;
    Position root;   /* whose plans are in hand; the same position if there is none */
    uint32_t game;   /* its number, 1 .. FIT_GAME_MAX */
    uint32_t family; /* of games that have positions in common, see fit_fold.h; at first the game's own */
    int16_t score;   /* of the search, for White, or NO_FIT_SCORE */
    uint8_t white_points; /* in half points: 0, 1 or 2 */
} FitPosition;

enum { FIT_GAME_MAX = 10000000, NO_FIT_SCORE = INT16_MIN };

typedef struct FitSample {
    size_t count, capacity;
    FitPosition *positions;
    char origin[ORIGIN_SIZE]; /* the commands that made it */
} FitSample;

/* Whether a family of games is held out, to measure the loss on what was not fitted: every fifth number is.
 * All positions of a game go the same way, because they share its result. */
bool fit_held_out(uint32_t family);

/* Which positions of a game count as quiet: neither side to move in check nor, to the engine that played, a
 * capture or promotion the best move; the score small enough that the result depends on more than it; and not
 * one of the first plies of a game. */
enum { FIT_SCORE_MAX = 600, FIT_PLIES_SKIPPED = 8 };

/* How many plies earlier the root of a position stands, if nobody says otherwise: about as deep as the engine searches with
 * 10,000 nodes (8 to 11 plies, 9 in the middle, in 24 of bench/openings/strata.epd). Nearer to its start a game has its start
 * for the root. */
enum { FIT_PLIES_BACK = 10, FIT_PLIES_BACK_MAX = 100 };

/* Adds the quiet positions of a game; a score may be NO_FIT_SCORE. False if memory runs out. */
bool fit_sample_add_game(FitSample *sample, uint32_t game, const Position *start, const GameRecord *record,
                         int plies_back);

/* Adds one position. False if memory runs out. */
bool fit_sample_add(FitSample *sample, const FitPosition *position);

/* Makes one family of all games, of which nothing is held out. */
void fit_sample_hold_nothing_out(FitSample *sample);

/* Keeps every n-th position only: neighbours in a game are much alike. */
void fit_sample_thin(FitSample *sample, size_t n);

/* How many games, and held out how many, the positions are from. False if memory runs out. */
bool fit_sample_count_games(const FitSample *sample, size_t *fitted, size_t *held_out);

/* On failure (reported) the file stays what it was. */
bool fit_sample_write(const FitSample *sample, const char *path);

/* Adds what is in a file. The games of a second one are counted on from those of the first, and the same ones
 * are held out. False on failure (reported). */
bool fit_sample_read(FitSample *sample, const char *path);

void fit_sample_free(FitSample *sample);

#endif
