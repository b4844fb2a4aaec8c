/* Everything that a forecast finds in games: the counts, the one test, and what is exploratory. */
#ifndef PAWNVANE_FORECAST_FINDINGS_H
#define PAWNVANE_FORECAST_FINDINGS_H

#include "bench/forecast/forecast_choice.h"
#include "bench/forecast/forecast_counts.h"
#include "bench/forecast/forecast_loss.h"
#include "bench/forecast/forecast_odds.h"
#include "bench/forecast/forecast_prices.h"

enum {
    /* Both sides and each alone: of the six moments whatever the verdict, and of three verdicts at two moments. */
    FORECAST_ODDS_COUNT = 3 * (FORECAST_PRINTED_MOMENTS + 2 * 3),
    FORECAST_ROUNDS = 999, /* of permutations */
    FORECAST_SEED = 1
};

/* Of searches only what is raw means anything: no two positions have an opening in common. */
typedef struct ForecastSearchFindings {
    ForecastCounts counts; /* its games are positions */
    ForecastOdds odds[FORECAST_ODDS_COUNT];
} ForecastSearchFindings;

typedef struct ForecastFindings {
    ForecastCounts counts;
    ForecastOdds odds[FORECAST_ODDS_COUNT]; /* the first is the primary test: DEVELOPERS.md */
    ForecastOddsRatioOfTwo lock[3];         /* firm to not_rammed: both sides, White, Black */
    ForecastChoiceModel choice;
    ForecastOdds rim, earlier; /* controls that must give 1 */
    ForecastPermuted permuted;
    double e_value, e_value_of_interval; /* of the primary odds ratio */
    ForecastLoss loss;
    bool has_searches; /* of positions; nothing below is set without */
    ForecastSettings settings;
    ForecastSearchFindings searches[2]; /* lines, continuations */
    ForecastPriceFindings prices;
} ForecastFindings;

/* What games alone show. False if memory runs out. */
bool forecast_find(const ForecastData *data, ForecastFindings *findings);

/* All of it. */
bool forecast_find_all(const ForecastEvidence *evidence, ForecastFindings *findings);

static inline const ForecastOdds *forecast_primary(const ForecastFindings *findings)
{
    return &findings->odds[0];
}

/* Whether the primary test is passed: both intervals above 1. */
bool forecast_holds(const ForecastFindings *findings);

/* The odds of a moment, verdict and side; null if they are not among those computed. */
const ForecastOdds *forecast_find_odds(const ForecastFindings *findings, int moment, int verdict, int side);

const ForecastOdds *forecast_odds_among(const ForecastOdds odds[FORECAST_ODDS_COUNT], int moment, int verdict,
                                        int side);

/* Whether there is anything to say of games: there are some, or nothing else. */
bool forecast_has_games(const ForecastFindings *findings);

/* "white", "black", "both". */
const char *forecast_side_name(int side);

/* Three sentences that claim no more than holds. */
enum { FORECAST_SENTENCES = 3, FORECAST_SENTENCE_SIZE = 640 };
void forecast_say(const ForecastFindings *findings,
                  char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE]);

/* The same of searches: where levers came, what one costs, whether games bear that out. */
void forecast_say_searches(const ForecastFindings *findings,
                           char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE]);

#endif
