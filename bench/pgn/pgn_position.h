/* One position of a game of a PGN file. */
#ifndef PAWNVANE_PGN_POSITION_H
#define PAWNVANE_PGN_POSITION_H

#include "bench/pgn/epd.h"
#include "bench/pgn/pgn.h"

#include <stddef.h>

enum { PGN_NAME_SIZE = 400 };

/* "White – Black, Event", as far as the tags tell, with nothing in it that cannot stand in quotes in EPD. */
void pgn_game_name(const PgnGame *game, char name[PGN_NAME_SIZE]);

/* "12.e4", "12...c5" of a move of the position. */
enum { PGN_NUMBERED_SIZE = 24 };
void pgn_numbered_move(const Position *before, Move move, char text[PGN_NUMBERED_SIZE]);

/* Whether a file has games by its name, which ends in .pgn. */
bool pgn_is_named(const char *path);

typedef struct PgnPlace {
    size_t game; /* number in the file, 1 for the first */
    int number;  /* of the move, as the game counts them; the position is the one after it */
    Side side;   /* who played it */
} PgnPlace;

/* Reads "12w" or "12b" into a place. False if it is no such move (reported). */
bool pgn_place_read_move(PgnPlace *place, const char *text);

/* Hands the position to `use`, with the operations id, which names the players and the move, and sm, the move that was
 * played there, if any. False
 * if the file cannot be read, has no such place, or the game is broken before it (all reported), or `use` says so. */
bool pgn_read_position(const char *path, const PgnPlace *place, EpdUse use, void *context);

#endif
