#include "bench/forecast/forecast_findings.h"

#include <stdio.h>
#include <string.h>

static const ForecastQuestion primary = {FORECAST_FIRM, FORECAST_ANY, FORECAST_ANY, false};

static const int verdicts[] = {PS_APPLIES, PS_FULFILLED, PS_MISLEADING};

const char *forecast_side_name(int side)
{
    return side == FORECAST_ANY ? "both" : ps_side_name((ps_side)side);
}

static bool find_odds(const ForecastData *data, ForecastOdds *odds)
{
    bool good = true;
    for (int moment = 0; moment < (int)FORECAST_PRINTED_MOMENTS; moment++)
        for (int side = FORECAST_ANY; side <= (int)BLACK; side++)
            good &= forecast_odds(data, &(ForecastQuestion){moment, FORECAST_ANY, side, false}, odds++);
    for (int moment = FORECAST_FIRM; moment <= (int)FORECAST_LIKELY; moment++)
        for (int verdict = 0; verdict < 3; verdict++)
            for (int side = FORECAST_ANY; side <= (int)BLACK; side++)
                good &=
                    forecast_odds(data, &(ForecastQuestion){moment, verdicts[verdict], side, false}, odds++);
    return good;
}

static bool find_lock(const ForecastData *data, ForecastFindings *findings)
{
    bool good = true;
    for (int side = FORECAST_ANY; side <= (int)BLACK; side++)
        good &= forecast_compare_odds(data, &(ForecastQuestion){FORECAST_FIRM, FORECAST_ANY, side, false},
                                      &(ForecastQuestion){FORECAST_NOT_RAMMED, FORECAST_ANY, side, false},
                                      &findings->lock[side + 1]);
    return good;
}

bool forecast_find(const ForecastData *data, ForecastFindings *findings)
{
    *findings = (ForecastFindings){0};
    forecast_count(data, &findings->counts);
    bool good = find_odds(data, findings->odds) && find_lock(data, findings) &&
                forecast_fit_choice(data, &findings->choice) &&
                forecast_odds(data, &(ForecastQuestion){FORECAST_RIM, FORECAST_ANY, FORECAST_ANY, false},
                              &findings->rim) &&
                forecast_odds(data, &(ForecastQuestion){FORECAST_FIRM, FORECAST_ANY, FORECAST_ANY, true},
                              &findings->earlier) &&
                forecast_permute(data, &primary, FORECAST_ROUNDS, FORECAST_SEED, &findings->permuted) &&
                forecast_loss(data, &primary, &findings->loss);
    const ForecastOdds *odds = forecast_primary(findings);
    findings->e_value = e_value(odds->within.estimate);
    findings->e_value_of_interval = e_value_of_interval(odds->within.interval);
    return good;
}

bool forecast_find_all(const ForecastEvidence *evidence, ForecastFindings *findings)
{
    bool good = forecast_find(&evidence->of[FORECAST_GAMES], findings);
    findings->has_searches = evidence->has_settings;
    findings->settings = evidence->settings;
    for (int i = 0; i < 2 && good && findings->has_searches; i++) {
        const ForecastData *data = &evidence->of[FORECAST_LINES + i];
        forecast_count(data, &findings->searches[i].counts);
        good = find_odds(data, findings->searches[i].odds);
    }
    return good && forecast_sum_up_prices(evidence, forecast_confidence, &findings->prices);
}

bool forecast_holds(const ForecastFindings *findings)
{
    const ForecastOdds *odds = forecast_primary(findings);
    return odds->within.interval.low > 1 && odds->clustered.interval.low > 1;
}

const ForecastOdds *forecast_odds_among(const ForecastOdds odds[FORECAST_ODDS_COUNT], int moment, int verdict,
                                        int side)
{
    for (int i = 0; i < (int)FORECAST_ODDS_COUNT; i++) {
        const ForecastQuestion *question = &odds[i].question;
        if (question->moment == moment && question->verdict == verdict && question->side == side)
            return &odds[i];
    }
    return NULL;
}

const ForecastOdds *forecast_find_odds(const ForecastFindings *findings, int moment, int verdict, int side)
{
    return forecast_odds_among(findings->odds, moment, verdict, side);
}

bool forecast_has_games(const ForecastFindings *findings)
{
    return findings->counts.games + findings->counts.skipped > 0 || !findings->has_searches;
}
