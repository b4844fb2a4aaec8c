/* Rows that cannot be those of a run: a file may have been damaged, or changed by another program. */
#ifndef PAWNVANE_STORE_CHECK_H
#define PAWNVANE_STORE_CHECK_H

#include "bench/base/database.h"

#include <stddef.h>
#include <stdint.h>

/* Whether every row holds what its column is for, and refers to rows that are there; only then are its
 * numbers good as indices. If not, one line names the first row that is wrong, by its table and key. Call it
 * within the transaction that then reads the rows, so that they are the same. */
bool store_check(const Database *database);

/* The same of all tables but that of the games, and of that alone. */
bool store_check_plan(const Database *database);
bool store_check_games(const Database *database);

/* The columns of a game, as SELECT * gives them. */
enum {
    GAME_MATCH,
    GAME_PAIR,
    GAME_HALF,
    GAME_WHITE_POINTS,
    GAME_ENDING,
    GAME_PLIES,
    GAME_MOVES,
    GAME_SCORES,
    GAME_MACHINE,
    GAME_COLUMNS
};

/* What a game may refer to. */
typedef struct GameBounds {
    int matches;
    size_t pairs;          /* of the plan */
    const uint8_t *strata; /* by pair, NO_STRATUM where the file has no opening; null: any pair will do */
} GameBounds;

enum { NO_STRATUM = 255 };

/* What store_check_games() finds of one row of "SELECT * FROM game", at a tenth of the time: a file may have
 * millions. On failure one line names the first row that is wrong. */
bool game_row_check(const Database *database, sqlite3_stmt *row, const GameBounds *bounds);

#endif
