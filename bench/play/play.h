/* One game between two contestants. */
#ifndef PAWNVANE_PLAY_H
#define PAWNVANE_PLAY_H

#include "bench/play/contestant.h"

/* When a game is scored before it is over. All limits are adjustable, and how a game ended is recorded. */
typedef struct Adjudication {
    int win_score, win_plies;   /* a win: so many plies running, both sides think that the same side is ahead
                                   by that many centipawns at least; 0 plies: never */
    int draw_score, draw_plies; /* a draw: so many plies running, nobody thinks that either side is ahead by
                                   more than that many centipawns; 0 plies: never */
    int draw_from;              /* but not before that many plies have been played */
    int longest;                /* a draw after that many plies, 1 .. GAME_PLIES_MAX */
} Adjudication;

enum { GAME_PLIES_MAX = 1000 };

extern const Adjudication default_adjudication;

typedef struct GameRecord {
    int white_points;   /* in half points: 0, 1 or 2 */
    const char *ending; /* how, in a few English words; a constant */
    int plies;
    int at_fault; /* the Side whose program did not play on, and what it did; -1: neither */
    char fault[UCI_FAULT_SIZE];
    Move moves[GAME_PLIES_MAX];
    int16_t scores[GAME_PLIES_MAX];  /* what the mover thought of the position, centipawns for itself */
    int64_t left_ms[GAME_PLIES_MAX]; /* by the clock, on the mover's after the move and its increment */
} GameRecord;

/* Plays from a position in which there is a legal move; `players` by Side. A player whose clock runs out
 * loses, and so does a program that ends, or does not answer, or plays what is no legal move. False if nobody can
 * play here (reported), or if the program is interrupted (interrupt.h). */
bool play_game(Contestant *const players[2], const Position *start, const TimeControl *time,
               const Adjudication *adjudication, GameRecord *record);

/* The words for games that are scored before they are over. */
extern const char ending_adjudicated_win[], ending_adjudicated_draw[], ending_longest[];

/* The words for games that are lost though their position is not. */
typedef enum Forfeit { FORFEIT_TIME, FORFEIT_ILLEGAL_MOVE, FORFEIT_ENGINE_ENDED, FORFEIT_COUNT } Forfeit;

extern const char *const ending_forfeits[FORFEIT_COUNT];

#endif
