#include "bench/forecast/forecast_tables.h"

#include <math.h>
#include <stdio.h>

const char forecast_search_warning[] =
    "Best line and continuation come from one and the same evaluation, without the lever term: where they "
    "agree, that is one "
    "witness and no second. That evaluation was fitted to games of the engine, and it knows pawns, too.";

const char forecast_price_warning[] =
    "A move that is named beforehand is bound to lose something against the best of many others: the prices "
    "are to be compared "
    "with each other, and a lever that costs a little at the first chance may be best a move later.";

/* First levers on a wing at firm moments where the named lever could still be played, and those on the named wing. */
static void write_right(const ForecastSearchFindings *searches, char text[64])
{
    const ForecastOdds *odds = forecast_odds_among(searches->odds, FORECAST_FIRM, PS_APPLIES, FORECAST_ANY);
    double right = odds->table[0][0] + odds->table[1][1];
    if (odds->n > 0)
        snprintf(text, 64, "%.0f of %zu (%.0f %%)", right, odds->n, 100 * right / (double)odds->n);
    else
        snprintf(text, 64, "none of 0");
}

static void say_places(const ForecastFindings *findings, char *sentence)
{
    char line[64], continuation[64];
    write_right(&findings->searches[0], line);
    write_right(&findings->searches[1], continuation);
    snprintf(sentence, FORECAST_SENTENCE_SIZE,
             "Asked at %zu positions, the engine without the lever term has, after a lock on d and e whose "
             "named lever can "
             "still be played, %s first levers on a wing on the named one in its best lines and %s in what "
             "it plays against "
             "itself; both share one evaluation, so this is one witness and not two.",
             findings->searches[0].counts.games, line, continuation);
}

static void write_price(const ForecastPriceMean *mean, char text[128])
{
    Interval interval = mean->chance.interval;
    if (mean->n >= 2)
        snprintf(text, 128, "%+.1f %% of winning chances (95 %% interval %+.1f to %+.1f, %zu positions)",
                 100 * mean->chance.mean, 100 * interval.low, 100 * interval.high, mean->n);
    else
        snprintf(text, 128, "no number can be given (%zu positions)", mean->n);
}

static void say_price(const ForecastFindings *findings, char *sentence)
{
    char ready[128], unsupported[128];
    write_price(&forecast_price_row(&findings->prices, "ready")->to_other, ready);
    write_price(&forecast_price_row(&findings->prices, "unsupported")->to_other, unsupported);
    if (findings->prices.count == 0)
        snprintf(sentence, FORECAST_SENTENCE_SIZE, "What the named lever costs was asked nowhere.");
    else
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "The named lever played at once, compared with the best move that is no lever, is worth "
                 "this by searches to "
                 "equal depth without the term: if it is ready by count, %s; if it is unsupported, %s.",
                 ready, unsupported);
}

static void say_calibration(const ForecastFindings *findings, char *sentence)
{
    const ForecastCalibration *all = &findings->prices.calibration[0];
    if (all->n < 2) {
        snprintf(sentence, FORECAST_SENTENCE_SIZE, "Whether games bear these searches out was not asked.");
        return;
    }
    snprintf(sentence, FORECAST_SENTENCE_SIZE,
             "Played out from %zu of these positions, the lever brought %+.1f %% of a point (95 %% interval "
             "%+.1f to %+.1f) "
             "against the best other move, where the searches expected %+.1f %%: %s.",
             all->n, 100 * all->observed.mean, 100 * all->observed.interval.low,
             100 * all->observed.interval.high, 100 * all->expected.mean,
             all->missed.interval.low > 0    ? "games are kinder to the lever than the searches"
             : all->missed.interval.high < 0 ? "games are harder on the lever than the searches"
                                             : "that games see it otherwise is not shown");
}

void forecast_say_searches(const ForecastFindings *findings,
                           char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE])
{
    say_places(findings, sentences[0]);
    say_price(findings, sentences[1]);
    say_calibration(findings, sentences[2]);
}
