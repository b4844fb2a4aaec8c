/* The moves of a node in the order in which a worker searches them: that of the picker, but what another
 * worker is searching just now comes last, when its result will be in the transposition table (T. Kerrigan,
 * "Simplified ABDADA", from memory). Being wrong about what another is at costs time and nothing else. */
#ifndef PAWNVANE_AGENDA_H
#define PAWNVANE_AGENDA_H

#include "engine/search/ordering.h"

enum { BUSY_SLOTS = 8192, REFUTED_SLOTS = 65536, AGENDA_DEFERRED = 32 };

/* What all workers are searching, by position and move, and what they have refuted: another worker reduces a
 * move differently, and so would not find its result in the transposition table at the depth it asks for. */
typedef struct SharedWork {
    _Atomic uint64_t busy[BUSY_SLOTS];
    _Atomic uint64_t refuted[REFUTED_SLOTS]; /* key (40), depth (8), score (16) */
} SharedWork;

typedef struct Agenda {
    Picker picker;
    SharedWork *shared; /* null: the order is the picker's, and no move is refuted */
    uint64_t key;
    Move excluded;
    int picked, deferred_count, deferred_next;
    int history; /* of the move given last, but for the first */
    struct {
        Move move;
        int number, history;
    } deferred[AGENDA_DEFERRED];
} Agenda;

/* Begins with a picker that has been started, if agenda_next() is going to be used; a move that is excluded
 * is left out. */
void agenda_start(Agenda *agenda, SharedWork *shared, const Position *position, Move excluded);

/* The next move and its number in the picker's order, 1 for the first; NO_MOVE when there are no more. */
Move agenda_next(Agenda *agenda, int *number);

/* Whether a worker is searching a move just now. */
bool agenda_is_busy(const Agenda *agenda, Move move);

/* Before and after the search of a move. */
void agenda_begin(Agenda *agenda, Move move);
void agenda_end(Agenda *agenda, Move move);

/* Tells the others that a move did not raise alpha at a node of that depth: it is worth `score` at most. */
void agenda_refute(Agenda *agenda, Move move, int depth, int score);

/* Whether a worker has said so of a move at that depth or a greater one. */
bool agenda_is_refuted(const Agenda *agenda, Move move, int depth, int *score);

#endif
