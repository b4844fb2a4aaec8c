#include "bench/forecast/forecast_findings.h"

#include <math.h>
#include <stdio.h>

static double percent(double part, double whole)
{
    return whole > 0 ? 100 * part / whole : 0;
}

/* Sides at a firm moment, and how many of them played no lever after it. */
static void count_none(const ForecastCounts *counts, size_t *sides, size_t *none)
{
    for (int side = WHITE; side <= BLACK; side++)
        for (int verdict = 0; verdict < (int)FORECAST_VERDICT_COUNT; verdict++)
            for (int region = 0; region < (int)PS_REGION_COUNT; region++) {
                const ForecastPlaces *all = &counts->cells[FORECAST_FIRM][side][verdict][region].all;
                *sides += all->n;
                *none += all->first[FORECAST_NO_LEVER];
            }
}

static void say_counts(const ForecastFindings *findings, char *sentence)
{
    const ForecastOdds *odds = forecast_primary(findings);
    double right = odds->table[0][0] + odds->table[1][1];
    size_t sides = 0, none = 0;
    count_none(&findings->counts, &sides, &none);
    if (odds->n == 0) {
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "In these %zu games no first lever on a wing follows a lock on d and e, so nothing can be "
                 "said of it.",
                 findings->counts.games);
        return;
    }
    snprintf(sentence, FORECAST_SENTENCE_SIZE,
             "After a lock on d and e, %.0f of %zu first levers on a wing (%.0f %%) came on the wing that "
             "the direction "
             "named; %zu of all %zu sides played none (%.0f %%).",
             right, odds->n, percent(right, (double)odds->n), none, sides,
             percent((double)none, (double)sides));
}

static void say_openings(const ForecastFindings *findings, char *sentence)
{
    const ForecastOdds *odds = forecast_primary(findings);
    if (isnan(odds->within.estimate)) {
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "Too few of these games share an opening and differ in direction, so what the opening "
                 "explains stays open.");
        return;
    }
    const ForecastLoss *loss = &findings->loss;
    snprintf(
        sentence, FORECAST_SENTENCE_SIZE,
        "Among games with the same opening the odds of a lever on the kingside are %.1f times as great if "
        "the direction names "
        "the kingside as if it names the queenside (95 %% interval %.1f to %.1f; %zu of %zu sides are in "
        "openings that can "
        "tell), over all games %.1f times: %s, %s (bits lost a lever: a coin 1, the direction alone %.2f, "
        "the opening "
        "alone %.2f, both %.2f).",
        odds->within.estimate, odds->within.interval.low, odds->within.interval.high, odds->n_informing,
        odds->n, odds->raw.estimate,
        forecast_holds(findings) ? "the direction goes with more than the opening does"
                                 : "that the direction goes with more than the opening does is not shown",
        loss->saved_interval.low > 0 ? "and it makes a forecast from the opening better"
                                     : "and that it makes a forecast from the opening better is not shown",
        loss->loss[FORECAST_KNOWING_DIRECTION], loss->loss[FORECAST_KNOWING_OPENING],
        loss->loss[FORECAST_KNOWING_BOTH]);
}

static void say_lock(const ForecastFindings *findings, char *sentence)
{
    const OddsRatio *lock = &findings->lock[0].clustered;
    static const char last[] = "and that players broke there does not show that they should have";
    if (isnan(lock->estimate))
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "Whether the lock matters cannot be told from these games, %s.", last);
    else
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "That odds ratio is %.1f times the one of linked pawns that are not rammed (95 %% interval "
                 "%.1f to %.1f), so "
                 "%s, %s.",
                 lock->estimate, lock->interval.low, lock->interval.high,
                 lock->interval.low > 1    ? "the lock itself goes with a better forecast"
                 : lock->interval.high < 1 ? "the lock itself goes with a worse forecast"
                                           : "that the lock itself matters is not shown",
                 last);
}

void forecast_say(const ForecastFindings *findings,
                  char sentences[FORECAST_SENTENCES][FORECAST_SENTENCE_SIZE])
{
    say_counts(findings, sentences[0]);
    say_openings(findings, sentences[1]);
    say_lock(findings, sentences[2]);
}
