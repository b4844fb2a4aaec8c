/* A survey on the standard output: for people, as JSON, as CSV, game by game. */
#ifndef PAWNVANE_CENSUS_PRINT_H
#define PAWNVANE_CENSUS_PRINT_H

#include "bench/census/census_totals.h"

/* False if memory runs out; so below. */
bool census_print_text(const CensusTotals *totals);

/* One line for each number: table, row, column, value. */
bool census_print_csv(const CensusTotals *totals);

/* One object. `games skipped plies`; `reached`: games by two files that were locked; `first_de`: by side,
 * "verdict/status" at the first moment of a locked chain on d and e -> games; `base_lever_played`,
 * `head_lever_played`: games by side; `near_misses`: games; `near_misses_lasting`: of these; `near_misses_common`: those so
 * frequent that they tell no game from another; `first`: games by who played the base lever first; `openings`,
 * `first_moves` (of games without a code), `years` and `ratings`: by name {"games", "any", "de"}, see CensusOpening. */
bool census_print_json(const CensusTotals *totals);

/* One object for a game. False if memory runs out.
 *
 *     {"file": "club.pgn", "game": 3, "line": 41, "plies": 80, "result": "1-0", "eco": "C02",
 *      "opening": null, "reached": ["de"], "near_misses": [],
 *      "first_de": {"ply": 9, "first_to_break": "white", "white": SIDE, "black": SIDE}}
 *
 *     SIDE   {"verdict": "applies", "status": "open", "base_lever": "f5", "head_lever": "c4",
 *             "base_played": 21, "head_played": null}
 *
 * `first_de` is null without a locked chain on d and e; a lever that was not played, or does not exist, is
 * null. */
bool census_print_game(const char *file, const CensusGame *game);

#endif
