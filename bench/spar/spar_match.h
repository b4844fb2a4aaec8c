/* A game between a pupil and a sparring partner: what has been played, and how it stands. */
#ifndef PAWNVANE_SPAR_MATCH_H
#define PAWNVANE_SPAR_MATCH_H

#include "engine/spar/plan_notes.h"

enum { SPAR_PLIES_MAX = 1024 };

typedef enum SparEnd {
    SPAR_GOES_ON,
    SPAR_OVER,     /* by the rules of chess: see game_end() */
    SPAR_RESIGNED, /* by the pupil */
    SPAR_LEFT      /* unfinished */
} SparEnd;

typedef struct SparMatch {
    Player *player;
    Sparring sparring;
    SearchLimits limits; /* of each move of the partner */
    Side pupil;
    Position start;
    Game game;
    int plies;
    Move moves[SPAR_PLIES_MAX];
    PlanNotes notes;
    SparEnd end;
} SparMatch;

/* Begins a game from a position; player, sparring, limits and pupil are set. These three: false if memory runs out. */
bool spar_match_start(SparMatch *match, const Position *start);

/* Plays a legal move for whoever's turn it is. */
bool spar_match_play(SparMatch *match, Move move);

/* Lets the partner play. The move and why it was preferred are handed over; *move is NO_MOVE if memory ran out. */
bool spar_match_answer(SparMatch *match, Move *move, SparChoice *choice);

/* Takes the pupil's last move back, and the answer to it. *took is false if there is none. */
bool spar_match_take_back(SparMatch *match, bool *took);

void spar_match_free(SparMatch *match);

/* As PGN writes it: "1-0", "0-1", "1/2-1/2" or "*"; a constant. */
const char *spar_match_result(const SparMatch *match);

/* How the game ended, in a sentence. */
void spar_match_end_text(const SparMatch *match, char *text, size_t size);

#endif
