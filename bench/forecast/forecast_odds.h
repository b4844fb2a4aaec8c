/* Does the direction foretell the wing, and does it still among games with the same opening? */
#ifndef PAWNVANE_FORECAST_ODDS_H
#define PAWNVANE_FORECAST_ODDS_H

#include "bench/forecast/forecast_units.h"

/* All intervals of a forecast. */
extern const double forecast_confidence;

/* Ratios of the odds that the first lever comes on the kingside: named against not named. */
typedef struct ForecastOdds {
    ForecastQuestion question;
    double table[2]
                [2];  /* named kingside, queenside; came on the kingside, queenside; all openings together */
    size_t n;         /* sides that answer */
    OddsRatio raw;    /* Mantel-Haenszel over the sides alone: for one side the plain odds ratio */
    OddsRatio within; /* Mantel-Haenszel over opening and side */
    OddsRatio clustered; /* the same with errors clustered by opening */
    size_t strata, informing;
    size_t n_informing, games_informing; /* sides and games in strata that inform */
    Homogeneity homogeneity;             /* of the odds ratios within openings */
} ForecastOdds;

/* False if memory runs out. */
bool forecast_odds(const ForecastData *data, const ForecastQuestion *question, ForecastOdds *odds);

/* The first odds ratio within openings divided by the second. Independent: as if no game were in both.
 * False if memory runs out. */
typedef struct ForecastOddsRatioOfTwo {
    ForecastOdds first, second;
    OddsRatio independent, clustered;
} ForecastOddsRatioOfTwo;

bool forecast_compare_odds(const ForecastData *data, const ForecastQuestion *first,
                           const ForecastQuestion *second, ForecastOddsRatioOfTwo *out);

/* The share of levers on the named wing, 0 to 1, in a table with even margins that has that odds ratio; 0.5 if the
 * direction says nothing. It is (1 + Y) / 2 with the coefficient of colligation Y of G. U. Yule, "On the methods of
 * measuring association between two attributes", Journal of the Royal Statistical Society 75, 1912. */
double forecast_even_share(double odds_ratio);

/* Directions dealt out anew among the sides of each opening: what the odds ratio within openings is if the direction knows
 * no more than the opening does. */
typedef struct ForecastPermuted {
    int rounds;     /* that had an odds ratio */
    double mean;    /* geometric */
    Interval range; /* that holds forecast_confidence of the rounds */
    double p;       /* two-sided: how often it is as far from 1 as the real one, the real one counted */
} ForecastPermuted;

bool forecast_permute(const ForecastData *data, const ForecastQuestion *question, int rounds, uint64_t seed,
                      ForecastPermuted *out);

#endif
