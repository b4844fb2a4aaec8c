#include "bench/pgn/pgn_rating.h"

enum { RATING_MAX = 4000 };

static const int band_ends[RATING_BAND_COUNT - 1] = {1200, 1500, 1800, 2100, 2400};

const char *const rating_band_names[RATING_BAND_COUNT] = {"below 1200",   "1200 to 1499", "1500 to 1799",
                                                          "1800 to 2099", "2100 to 2399", "2400 and more"};

int pgn_rating(const PgnGame *game, const char *tag)
{
    PgnText text;
    int rating = 0;
    if (!pgn_tag(game, tag, &text))
        return 0;
    for (size_t i = 0; i < text.length; i++) {
        if (text.start[i] < '0' || text.start[i] > '9')
            return 0;
        rating = rating * 10 + (text.start[i] - '0');
        if (rating > RATING_MAX)
            return 0;
    }
    return rating;
}

int rating_band(int rating)
{
    int band = 0;
    while (band < RATING_BAND_COUNT - 1 && rating >= band_ends[band])
        band++;
    return band;
}
