/* The first locked positions of a survey as EPD, to search or to play from. */
#ifndef PAWNVANE_CENSUS_POSITIONS_H
#define PAWNVANE_CENSUS_POSITIONS_H

#include "bench/base/output_file.h"
#include "bench/census/census.h"

typedef struct CensusPositions {
    OutputFile file;
    uint64_t *seen; /* what has been written: a set of position keys, 0 for an empty place */
    size_t count, capacity;
} CensusPositions;

/* False on failure (reported); so below. */
bool census_positions_open(CensusPositions *positions, const char *path);

/* Writes the position at which a game's first chain on d and e was locked, once for all games that share it:
 *
 *     PLACEMENT w - - c0 "applies/open"; c1 "misleading/barred"; fmvn 12; hmvc 0; id "club.pgn, game 3";
 *
 * c0 is what the direction says to the side to move, and the state of its base lever; c1 is the same for the
 * other side. Left out are positions without a legal move, and those of Chess960 whose castling rights an EPD
 * line alone does not tell. */
bool census_positions_add(CensusPositions *positions, const char *file, const CensusGame *game);

bool census_positions_commit(CensusPositions *positions);
void census_positions_abandon(CensusPositions *positions);

#endif
