/* What the named base lever costs or gains where it can be played now: against the best lever elsewhere, and against the
 * best move that is no lever.
 *
 * The best of several moves is the choice of a search among them. Then each of the three is searched alone, from nothing,
 * with as many nodes, and compared at the greatest depth that all of these searches have finished. All searches are without
 * the lever term. */
#ifndef PAWNVANE_FORECAST_PRICE_H
#define PAWNVANE_FORECAST_PRICE_H

#include "bench/forecast/forecast_game.h"
#include "bench/play/play.h"

typedef enum ForecastPriced {
    FORECAST_NAMED_LEVER,
    FORECAST_OTHER_LEVER,
    FORECAST_NO_LEVER_MOVE,
    FORECAST_PRICED_COUNT
} ForecastPriced;

/* Values for a half point scale: what a game brought to the side that had the choice. */
enum { FORECAST_NOT_PLAYED_OUT = -1 };

typedef struct ForecastPrice {
    uint32_t file; /* index */
    size_t number; /* line of the file */
    uint64_t key;  /* of the position */
    uint8_t side, verdict, grade, status;
    int depth;                         /* plies, to which all were searched */
    Move moves[FORECAST_PRICED_COUNT]; /* NO_MOVE if there is none of that kind */
    int scores[FORECAST_PRICED_COUNT]; /* score.h, for the side to move */
    int8_t rival;                      /* ForecastPriced: the better of the two others */
    int8_t points[2]; /* half points of the game with the lever, and of that with its rival */
} ForecastPrice;

/* How positions are searched and played out; every number of it decides the results. */
typedef struct ForecastSettings {
    int64_t nodes;         /* of the search for a best line, and of each move of a continuation */
    int64_t plies;         /* of a continuation */
    int64_t price_nodes;   /* of each search for a price, 0: no prices */
    int64_t playouts;      /* positions at most whose two moves are played out */
    int64_t playout_nodes; /* about so many a move */
    int64_t seed;
} ForecastSettings;

/* No prices are asked for. */
extern const ForecastSettings default_forecast_settings;

/* Somebody who plays games from a position on, both sides in the same way and without the term, at about so many nodes a
 * move. */
typedef struct ForecastReferee ForecastReferee;

/* Null on failure (reported). */
ForecastReferee *forecast_referee_new(int table_mib);
void forecast_referee_free(ForecastReferee *referee);

/* Prices the named lever. False if there is none that could be played now, or nothing to compare it with. */
bool forecast_price(Player *player, const Position *position, int64_t nodes, ForecastPrice *price);

/* Plays the lever and its rival out: two games, each with node counts of its own, from half to one and a half times
 * `nodes`, drawn by the seed and the position. False on failure (reported). */
bool forecast_play_out(ForecastReferee *referee, const Position *position, const ForecastSettings *settings,
                       ForecastPrice *price);

/* What the named lever is better by than another move, as winning chances, -1 to 1, and in centipawns, each score cut off
 * at JUDGED_SCORE_LIMIT. */
double forecast_gained_chance(const ForecastPrice *price, ForecastPriced other);
int forecast_gained_centipawns(const ForecastPrice *price, ForecastPriced other);

#endif
