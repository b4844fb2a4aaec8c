/* A client of the UCI protocol (S. Meyer-Kahlen, April 2006): drives an engine that is a program of its own,
 * through pipes. One thread at a time.
 *
 * An engine that ends, says nothing for too long or says something that makes no sense is at fault: every later
 * call fails at once, and what it did can be asked for. */
#ifndef PAWNVANE_UCI_CLIENT_H
#define PAWNVANE_UCI_CLIENT_H

#include "engine/rules/game.h"
#include "engine/search/player.h"

typedef struct UciClient UciClient;

typedef enum UciFault {
    UCI_SOUND,
    UCI_ILLEGAL_MOVE,
    UCI_ENDED,   /* it exited, crashed or takes no more commands */
    UCI_SILENT,  /* no answer in time, be it that it hangs or that it says endless other things */
    UCI_NO_START /* not its fault: it cannot be run, or memory, pipes or processes ran out */
} UciFault;

enum { UCI_FAULT_SIZE = 256 };

/* How long an engine may take for any answer, beyond what a search was allowed. */
enum { UCI_PATIENCE_MS = 60000 };

/* Starts the program and waits until it is ready, which it is only if uci_client_fault() says that it is sound.
 * Null if memory runs out (reported). */
UciClient *uci_client_start(const char *path, int64_t patience_ms);

/* Ends the program: by asking, by SIGTERM after some seconds, and by SIGKILL after some more. One at fault is
 * killed at once. */
void uci_client_stop(UciClient *client);

/* What is wrong with it, and the same in words, with exit status or signal, without its path. */
UciFault uci_client_fault(const UciClient *client);
const char *uci_client_fault_text(const UciClient *client);

/* What it calls itself. */
const char *uci_client_name(const UciClient *client);

/* Whether it offers that option. */
bool uci_client_has_option(const UciClient *client, const char *name);

/* The least and the greatest value of an option that is a number; false if it is none, or does not tell them. */
bool uci_client_option_range(const UciClient *client, const char *name, int64_t *least, int64_t *greatest);

bool uci_client_set_option(UciClient *client, const char *name, const char *value);

/* Tells that the next position is from another game, and waits until the engine is ready for it. */
bool uci_client_new_game(UciClient *client);

/* How long it may think. */
typedef struct UciLimits {
    int64_t nodes;       /* 0: no such limit */
    int64_t move_ms;     /* 0: no such limit */
    int64_t clock_ms[2]; /* by Side; 0: no clock */
    int64_t increment_ms[2];
} UciLimits;

/* A game in which a move is to be chosen: it is not over. */
typedef struct PlayedGame {
    const Position *start;
    int ply_count; /* played from there to the present position of `game` */
    const Move *moves;
    const Game *game;
} PlayedGame;

typedef struct ChosenMove {
    Move move;
    int score; /* what its player thinks of it, centipawns for itself (score.h) */
} ChosenMove;

/* Lets it choose a move; on a clock it is waited for until little more than the clock has run out. The score is
 * the last that it told of its best line, 0 if it told none. */
bool uci_client_choose(UciClient *client, const PlayedGame *played, const UciLimits *limits,
                       ChosenMove *chosen);

#endif
