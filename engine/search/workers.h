/* The workers: searchers that think about one position together, each in a thread of its own.
 *
 * All of them search the same root to the same depth. They share the transposition table, the history of
 * quiet moves, and by the agenda what each of them is busy with and has refuted; whoever finishes an
 * iteration first hands it over to the others, so that some depths may never be reported. All else that
 * they learn, each keeps to itself: shared, it is fought over by the caches of the processors and helps no
 * more (make bench). The first worker is the thread that calls workers_think(): it reports and keeps the
 * limits. */
#ifndef PAWNVANE_WORKERS_H
#define PAWNVANE_WORKERS_H

#include "engine/rules/game.h"
#include "engine/search/iterate.h"

typedef struct Workers Workers;

/* One worker, with a table that belongs to the caller. Null if memory runs out. */
Workers *workers_new(TranspositionTable *table);
void workers_free(Workers *all);

/* Changes their number, from 1 to WORKERS_MAX. If the system does not give the threads or the memory
 * (false), it stays as it was. Not while thinking, like all of these but for workers_think(). */
bool workers_set_count(Workers *all, int count);
int workers_count(const Workers *all);

/* They forget everything they learned. */
void workers_forget(Workers *all);

/* Searcher number 0 .. workers_count() - 1, to be set up. */
Searcher *workers_searcher(Workers *all, int number);

/* Thinks about the present position of the game; the time is left out of the result. Without memory the best
 * move is NO_MOVE. */
void workers_think(Workers *all, const Game *game, const Watch *watch, const SearchListener *listener,
                   SearchResult *result);

#endif
