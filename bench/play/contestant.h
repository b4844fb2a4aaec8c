/* Somebody who plays for an arm: the engine built in, or a program driven by the UCI protocol. */
#ifndef PAWNVANE_CONTESTANT_H
#define PAWNVANE_CONTESTANT_H

#include "bench/play/arm.h"
#include "bench/play/uci_client.h"

/* How long a move may take, beside the nodes of the arm. Both 0: nothing but the nodes counts. */
typedef struct TimeControl {
    int64_t move_ms;
    int64_t clock_ms, increment_ms; /* a clock for each side, and what each move adds */
    int64_t pace; /* nodes that count as a second, of engines that are built in; 0: time counts */
} TimeControl;

/* The clocks of a game, by Side. */
typedef struct Clocks {
    int64_t left_ms[2];
} Clocks;

typedef struct Contestant Contestant;

/* Null on failure (reported). `arm` must stay. A program is started by the first game. */
Contestant *contestant_new(const Arm *arm, int table_mib);
void contestant_free(Contestant *contestant);

/* The player of an engine that is built in; null of a program. */
Player *contestant_player(Contestant *contestant);

/* Whether a contestant did what it was asked for. */
typedef enum Answer {
    ANSWER_GIVEN,
    ANSWER_FAULT, /* a program's: it loses the game, and is started again for the next one */
    ANSWER_NONE   /* nobody can play here (reported) */
} Answer;

/* Forgets all that went before. A program is started if it does not run. */
Answer contestant_new_game(Contestant *contestant);

/* What a program's fault was, and the same in words. */
UciFault contestant_fault(const Contestant *contestant);
const char *contestant_fault_text(const Contestant *contestant);

/* What a contestant is asked for: a move in that game, with so much time left. */
typedef struct MoveRequest {
    PlayedGame played;
    const TimeControl *time;
    const Clocks *clocks;
} MoveRequest;

Answer contestant_choose(Contestant *contestant, const MoveRequest *request, ChosenMove *chosen);

/* The nodes that its last choice took; 0 of a program. */
uint64_t contestant_nodes(const Contestant *contestant);

#endif
