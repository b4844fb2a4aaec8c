#include "bench/forecast/forecast_findings.h"

#include <math.h>
#include <stdio.h>

/* First levers on a wing at firm moments, and how many of them on the named one. */
typedef struct Right {
    double right, all;
} Right;

static void add_right(const ForecastFindings *findings, int verdict, Right *sum)
{
    const ForecastOdds *odds = forecast_find_odds(findings, FORECAST_FIRM, verdict, FORECAST_ANY);
    sum->right += odds->table[0][0] + odds->table[1][1];
    sum->all += (double)odds->n;
}

static void write_right(const Right *sum, char text[64])
{
    if (sum->all > 0)
        snprintf(text, 64, "%.0f of %.0f (%.0f %%)", sum->right, sum->all, 100 * sum->right / sum->all);
    else
        snprintf(text, 64, "none of 0");
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
    Right applies = {0}, others = {0};
    size_t sides = 0, none = 0;
    char there[64], elsewhere[64];
    if (forecast_primary(findings)->n == 0) {
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "In these %zu games no first lever on a wing follows a lock on d and e, so nothing can be "
                 "said of it.",
                 findings->counts.games);
        return;
    }
    add_right(findings, PS_APPLIES, &applies);
    add_right(findings, PS_FULFILLED, &others);
    add_right(findings, PS_MISLEADING, &others);
    write_right(&applies, there);
    write_right(&others, elsewhere);
    count_none(&findings->counts, &sides, &none);
    snprintf(sentence, FORECAST_SENTENCE_SIZE,
             "After a lock on d and e, %s first levers on a wing came on the wing that the direction named "
             "if the named "
             "lever could still be played, and %s if it could not; %zu of all %zu sides played no lever.",
             there, elsewhere, none, sides);
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
    snprintf(sentence, FORECAST_SENTENCE_SIZE,
             "Among games with the same opening the odds of a lever on the kingside are %.1f times as great "
             "if the direction "
             "names the kingside as if it names the queenside (95 %% interval %.1f to %.1f; %zu of %zu sides "
             "are in openings "
             "that can tell), so %s; %s.",
             odds->within.estimate, odds->within.interval.low, odds->within.interval.high, odds->n_informing,
             odds->n,
             forecast_holds(findings)
                 ? "the direction goes with more than the opening does"
                 : "that the direction goes with more than the opening does is not shown",
             findings->loss.saved_interval.low > 0
                 ? "whoever knows the opening foretells the wing better if he knows the direction, too"
                 : "that whoever knows the opening foretells the wing better by the direction is not shown");
}

static void say_lock(const ForecastFindings *findings, char *sentence)
{
    const OddsRatio *lock = &findings->lock[0].clustered;
    static const char last[] = "that players broke there does not show that they should have";
    if (isnan(lock->estimate))
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "Whether the lock itself matters cannot be told from these games, and %s.", last);
    else
        snprintf(sentence, FORECAST_SENTENCE_SIZE,
                 "Compared with linked pawns that are not rammed, the odds ratio of locked chains is %.1f "
                 "times as great (95 "
                 "%% interval %.1f to %.1f), so %s; and %s.",
                 lock->estimate, lock->interval.low, lock->interval.high,
                 lock->interval.low > 1    ? "a lock goes with a better forecast"
                 : lock->interval.high < 1 ? "a lock goes with a worse forecast"
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
