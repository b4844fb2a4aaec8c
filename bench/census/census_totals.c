#include "bench/census/census_totals.h"

enum { DE_PAIR = 3 };

const char *census_status_name(int status)
{
    return status == CENSUS_NO_LEVER ? "none" : ps_status_name(status);
}

size_t census_de_games(const CensusTotals *totals)
{
    return totals->reached[DE_PAIR];
}

bool census_is_live(ps_status status)
{
    return status == PS_READY || status == PS_OPEN || status == PS_UNSUPPORTED || status == PS_OBSTRUCTED;
}

static void add_share(CensusShare *share, bool played)
{
    share->sides++;
    share->played += played;
}

static void add_result(CensusResults *results, PgnResult result, Side side)
{
    if (result == PGN_DRAW)
        results->drawn++;
    else if (result == PGN_NO_RESULT)
        results->unfinished++;
    else if ((result == PGN_WHITE_WINS) == (side == WHITE))
        results->won++;
    else
        results->lost++;
}

static void add_side(CensusTotals *totals, const CensusGame *game, Side side)
{
    const CensusSide *s = &game->side[side];
    bool played = s->base_ply > 0;
    int status = s->status == PS_NO_STATUS ? CENSUS_NO_LEVER : s->status;
    totals->first_de[side][s->verdict][status]++;
    if (played) {
        totals->base_lever_played[side]++;
        totals->base_lever_delay[side] += (uint64_t)(s->base_ply - game->de_ply);
    }
    if (s->head_ply > 0) {
        totals->head_lever_played[side]++;
        totals->head_lever_delay[side] += (uint64_t)(s->head_ply - game->de_ply);
    }
    add_share(&totals->by_status[status], played);
    if (!census_is_live(s->status))
        return;
    int landmark = game->de_ply + CENSUS_LANDMARK;
    if (game->plies > landmark)
        add_result(&totals->results[side][played && s->base_ply <= landmark], game->result, side);
    if (game->rating[side] > 0)
        add_share(&totals->by_rating[rating_band(game->rating[side])], played);
}

static void add_de_game(CensusTotals *totals, const CensusGame *game)
{
    int first = census_first(game);
    totals->first_de_plies += (uint64_t)game->de_ply;
    totals->first[first == PS_NOBODY ? CENSUS_NEITHER : first]++;
    if (first != PS_NOBODY && game->first_to_break != PS_NOBODY) {
        totals->foretold[first]++;
        totals->foretold_rightly += first == game->first_to_break;
    }
    for (int side = WHITE; side <= BLACK; side++)
        add_side(totals, game, side);
}

unsigned census_grades(const CensusGame *game)
{
    unsigned grades = 0;
    for (int pair = 0; pair < CENSUS_PAIR_COUNT; pair++)
        if (game->pairs & 1U << pair)
            grades |= 1U << ps_grade_of_pairs(1U << pair);
    return grades;
}

bool census_has_chain(const CensusGame *game)
{
    return (census_grades(game) & ~(1U << PS_VOID)) != 0;
}

int census_band(const CensusGame *game)
{
    bool both = game->rating[WHITE] > 0 && game->rating[BLACK] > 0;
    return both ? rating_band((game->rating[WHITE] + game->rating[BLACK]) / 2) : -1;
}

int census_year(const CensusGame *game)
{
    int year = game->year - CENSUS_YEAR_FROM;
    return year >= 0 && year < CENSUS_YEAR_COUNT ? year : -1;
}

bool census_is_common(size_t games, size_t all)
{
    return 3 * games >= all;
}

/* By opening, year and rating. */
static bool add_by_group(CensusTotals *totals, const CensusGame *game)
{
    bool any = census_has_chain(game), de = game->de_ply > 0;
    int year = census_year(game), band = census_band(game);
    if (game->eco >= 0)
        census_opening_add(&totals->openings[game->eco], any, de);
    if (year >= 0)
        census_opening_add(&totals->years[year], any, de);
    if (band >= 0)
        census_opening_add(&totals->ratings[band], any, de);
    if (game->first_moves == 0)
        return true;
    CensusOpening *line = census_lines_find(&totals->lines, game->first_moves);
    if (line != NULL)
        census_opening_add(line, any, de);
    return line != NULL;
}

bool census_totals_add(CensusTotals *totals, const CensusGame *game)
{
    unsigned grades = census_grades(game);
    totals->games++;
    totals->plies += (uint64_t)game->plies;
    for (int pair = 0; pair < CENSUS_PAIR_COUNT; pair++)
        totals->reached[pair] += game->pairs >> pair & 1;
    for (int grade = 0; grade < PS_GRADE_COUNT; grade++)
        totals->grades[grade] += grades >> grade & 1;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        totals->near_misses[i] += game->near_misses >> i & 1;
        totals->lasting[i] += game->lasting >> i & 1;
    }
    totals->strata[game->stratum]++;
    if (game->de_ply > 0)
        add_de_game(totals, game);
    return add_by_group(totals, game);
}

void census_totals_free(CensusTotals *totals)
{
    census_lines_free(&totals->lines);
}
