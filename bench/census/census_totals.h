/* What many games show together. */
#ifndef PAWNVANE_CENSUS_TOTALS_H
#define PAWNVANE_CENSUS_TOTALS_H

#include "bench/census/census.h"
#include "bench/census/census_lines.h"
#include "bench/pgn/pgn_rating.h"

#include <stdint.h>

/* Sides by how their game ended for them. */
typedef struct CensusResults {
    size_t won, drawn, lost, unfinished;
} CensusResults;

/* How many plies after the first moment results are compared. Whether a lever is ever played depends on how
 * long the game lasts, and so does its result: so sides are classed by what they had done by a fixed ply, and
 * only games count that were still going on then (J. Anderson, K. Cain, R. Gelber, "Analysis of Survival by
 * Tumor Response", Journal of Clinical Oncology 1, 1983; from memory). 20, ten moves of each side: common
 * practice, no source. */
enum { CENSUS_LANDMARK = 20 };

/* Sides, and how many of them played their base lever. */
typedef struct CensusShare {
    size_t sides, played;
} CensusShare;

/* First to play its base lever: White, Black, neither. */
enum { CENSUS_NEITHER = 2, CENSUS_FIRST_COUNT };

/* The states of a base lever, and one more place for chains that point off the board and have none. */
enum { CENSUS_NO_LEVER = PS_STATUS_COUNT, CENSUS_STATUS_COUNT };
const char *census_status_name(int status);

/* Years that are told one by one: before and after there is none. */
enum { CENSUS_YEAR_FROM = 1400, CENSUS_YEAR_COUNT = 800 };

/* A near miss that one game in three has tells no game from another. Common practice, no source. */
bool census_is_common(size_t games, size_t all);

typedef struct CensusTotals {
    size_t games, skipped;
    uint64_t plies;
    size_t reached[CENSUS_PAIR_COUNT];        /* games, by pair */
    size_t grades[PS_GRADE_COUNT];            /* games with locked files of that grade */
    size_t near_misses[PS_NEAR_MISS_COUNT];   /* games */
    size_t lasting[PS_NEAR_MISS_COUNT];       /* of these, in which it lasted */
    CensusOpening openings[CENSUS_ECO_COUNT]; /* of the games that give an ECO code; the others: */
    CensusLines lines;
    CensusOpening years[CENSUS_YEAR_COUNT];
    CensusOpening ratings[RATING_BAND_COUNT]; /* by the mean of both sides, who both have one */
    size_t strata[STRATUM_COUNT + 1];         /* games, by their first stratum; the last has none */

    /* From here on only games that reach a locked chain on d and e, by Side. */
    size_t first_de[2][PS_VERDICT_COUNT][CENSUS_STATUS_COUNT];
    uint64_t first_de_plies; /* sum */
    size_t base_lever_played[2], head_lever_played[2];
    uint64_t base_lever_delay[2], head_lever_delay[2]; /* sums of the plies from the first moment */
    size_t first[CENSUS_FIRST_COUNT];
    /* Games in which a side played its base lever first, and the count named a first to break, by the side
     * that was first; and those where it was the side named. */
    size_t foretold[2], foretold_rightly;
    /* Of games that went on beyond the landmark, sides whose base lever was live at the first moment: by
     * Side, then not played by the landmark, played. */
    CensusResults results[2][2];
    CensusShare by_status[CENSUS_STATUS_COUNT];
    CensusShare by_rating[RATING_BAND_COUNT];
} CensusTotals;

/* False if memory runs out. */
bool census_totals_add(CensusTotals *totals, const CensusGame *game);
void census_totals_free(CensusTotals *totals);

/* The grades of a game, as a set; whether it has a chain of any grade but void. */
unsigned census_grades(const CensusGame *game);
bool census_has_chain(const CensusGame *game);

/* The band of a game by the mean rating of its sides; -1 if not both have one. The place of its year in
 * CensusTotals.years; -1 if it has none. */
int census_band(const CensusGame *game);
int census_year(const CensusGame *game);

/* Games that reach a locked chain on d and e. */
size_t census_de_games(const CensusTotals *totals);

/* Whether a lever in that state can still be played, but has not been. */
bool census_is_live(ps_status status);

#endif
