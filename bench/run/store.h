/* The file of a run: an SQLite database, in WAL mode while it is played; store_schema.c says what is in it. Here it is written,
 * stored_run.h reads it.
 *
 * A process that is killed at any moment, or a machine that loses power, loses the games in flight and
 * nothing else. Every failure is reported in one line by the time a function returns it, and leaves what
 * was in the file before. */
#ifndef PAWNVANE_STORE_H
#define PAWNVANE_STORE_H

#include "bench/base/database.h"
#include "bench/run/experiment.h"

typedef struct Store Store;

/* Opens a file for playing: makes it if there is none, goes on if it is of the same experiment and share, or is a
 * partial one of it that is to become whole; refuses it if it is anything else or if another process is playing
 * on it. A null path is a store in memory. */
Store *store_open(const char *path, const Experiment *experiment, Share share);

void store_close(Store *store);

/* Half points of White in a game that was there when the store was opened; -1 if it was not. */
int store_points(const Store *store, GameKey key);

/* Adds a finished game, in a transaction of its own. Any thread, at any time. After a failure no more are
 * taken. */
bool store_add(Store *store, GameKey key, const GameRecord *record);

/* Drops the games of all pairs from this number on: those that were played ahead of the decision to stop. */
bool store_drop_from(Store *store, int pair);

/* To read from. Not while another thread may add a game. */
const Database *store_database(const Store *store);

#endif
