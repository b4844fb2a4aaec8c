/* A forecast as one JSON object. */
#ifndef PAWNVANE_FORECAST_JSON_H
#define PAWNVANE_FORECAST_JSON_H

#include "bench/forecast/forecast_findings.h"

/* Prints it on a line of its own. False if memory runs out.
 *
 *     {"games": 12700, "plies": 1098768, "skipped": 0,
 *      "complete": true,                   false if a share of the games is missing
 *      "rows": [{"moment": "firm", "side": "black", "verdict": "applies", "region": "kingside", "n": 681,
 *                "first_lever": {"queenside": 195, "centre": 17, "kingside": 329, "none": 140},
 *                "named": 250, "points": 290.5,
 *                "finished": 681,        games with a result
 *                "plies_to_lever": 9.1,  mean over those with a first lever; null without
 *                "ratings": [{"band": "2400 and more", "n": .., "first_lever": {..}, "named": ..}]}],
 *      "primary": {.. ODDS .., "holds": true},
 *      "odds": [ODDS],
 *      "lock": [{"side": "both", "estimate": .., "low": .., "high": .., "clustered_low": .., "clustered_high": ..}],
 *      "choice": {"sides": .., "alternatives": .., "candidates": .., "no_lever": .., "not_there": .., "no_choice": ..,
 *                 "log_likelihood": .., "null_log_likelihood": .., "openings": ..,
 *                 "coefficients": [{"name": "named", "estimate": .., "error": .., "clustered_error": ..}]},
 *      "controls": {"rim": ODDS, "earlier": ODDS,
 *                   "permuted": {"seed": 1, "rounds": 999, "mean": .., "low": .., "high": .., "p": ..}},
 *      "e_value": {"estimate": .., "interval": ..},
 *      "log_loss": {"n": .., "side": .., "direction": .., "opening": .., "both": ..,
 *                   "saved": .., "saved_low": .., "saved_high": ..},
 *      "searches": {                       only with positions
 *        "positions": 1200, "left_out": 14, "complete": true,
 *        "nodes": .., "plies": .., "price_nodes": .., "playouts": .., "playout_nodes": .., "seed": ..,
 *        "line": {"rows": [..], "odds": [ODDS]},        as above; of the odds ratios only "raw" is there
 *        "continuation": {..},
 *        "prices": [{"id": "firm-ready", "lever": PRICE, "other": PRICE}],
 *        "calibration": [{"id": "all", "n": .., "expected": MEAN, "observed": MEAN, "missed": MEAN,
 *                         "slope": .., "slope_error": .., "slope_low": .., "slope_high": ..}]}}
 *
 *     PRICE {"n": .., "centipawns": MEAN, "chance": MEAN}    against the best lever elsewhere, the best other move
 *     MEAN  {"estimate": .., "low": .., "high": ..}          chances and points from -1 to 1
 *
 *     ODDS {"moment": "firm", "verdict": null, "side": "both", "n": .., "table": [[.., ..], [.., ..]],
 *           "raw": {"estimate": .., "low": .., "high": ..},
 *           "within": {"estimate": .., "low": .., "high": .., "clustered_low": .., "clustered_high": ..,
 *                      "log_error": .., "strata": .., "informing": .., "n_informing": .., "games_informing": ..},
 *           "homogeneity": {"chi_square": .., "degrees": .., "p": ..}}
 *
 * The table's first row are sides whose direction names the kingside, its first column first levers that came there. Numbers
 * that do not exist are null; "choice" is null if there is no fit. */
bool forecast_print_json(const ForecastFindings *findings);

#endif
