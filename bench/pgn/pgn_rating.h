/* Ratings of players, as tags give them, and bands of ratings. */
#ifndef PAWNVANE_PGN_RATING_H
#define PAWNVANE_PGN_RATING_H

#include "bench/pgn/pgn.h"

/* The rating in that tag ("WhiteElo"), 0 if there is none. */
int pgn_rating(const PgnGame *game, const char *tag);

/* The last band has no upper end. Common practice among clubs, no source. */
enum { RATING_BAND_COUNT = 6 };
extern const char *const rating_band_names[RATING_BAND_COUNT];

/* The band of a rating above 0. */
int rating_band(int rating);

#endif
