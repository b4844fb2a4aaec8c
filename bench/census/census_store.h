/* A survey in an SQLite file, one row a game, for questions that the tables do not answer. A file with
 * anything else in it is refused.
 *
 *     CREATE TABLE census_game (file, game, line, plies, result, eco, opening, white_rating, black_rating,
 *         reached,                 -- files that were locked, "de ef"
 *         near_misses,             -- "same_way rim"
 *         de_ply,                  -- null without a locked chain on d and e, and so are the rest
 *         first_to_break,
 *         white_verdict, white_status, white_base_lever, white_base_ply, white_head_lever, white_head_ply,
 *         black_verdict, ...) */
#ifndef PAWNVANE_CENSUS_STORE_H
#define PAWNVANE_CENSUS_STORE_H

#include "bench/base/database.h"
#include "bench/census/census.h"

typedef struct CensusStore {
    Database database;
    sqlite3_stmt *insert;
} CensusStore;

/* Begins to replace the survey in that file, which may be new. False on failure (reported); so below. */
bool census_store_open(CensusStore *store, const char *path);
bool census_store_add(CensusStore *store, const char *file, const CensusGame *game);

/* Until it is committed the file is as it was. */
bool census_store_commit(CensusStore *store);
void census_store_abandon(CensusStore *store);

#endif
