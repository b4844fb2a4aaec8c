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

void census_totals_add(CensusTotals *totals, const CensusGame *game)
{
    unsigned grades = 0;
    totals->games++;
    totals->plies += (uint64_t)game->plies;
    for (int file = 0; file < CENSUS_PAIR_COUNT; file++) {
        if (game->pairs & 1U << file) {
            totals->reached[file]++;
            grades |= 1U << ps_grade_of_pairs(1U << file);
        }
    }
    for (int grade = 0; grade < PS_GRADE_COUNT; grade++)
        totals->grades[grade] += grades >> grade & 1;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        totals->near_misses[i] += game->near_misses >> i & 1;
    totals->strata[game->stratum]++;
    if (game->eco >= 0) {
        CensusOpening *opening = &totals->openings[game->eco];
        opening->games++;
        opening->any += (grades & ~(1U << PS_VOID)) != 0;
        opening->de += game->de_ply > 0;
    }
    if (game->de_ply > 0)
        add_de_game(totals, game);
}
