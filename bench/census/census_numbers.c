#include "bench/census/census_numbers.h"
#include "bench/census/census_totals.h"

#include <stdio.h>

enum { DE_PAIR = 3, NO_MOMENT = -1, DE_MOMENT = CENSUS_OF_PAIR + DE_PAIR };

void census_name(char name[CENSUS_NAME_SIZE], const char *table, const char *row, const char *column)
{
    snprintf(name, CENSUS_NAME_SIZE, "%s/%s%s%s", table, row, column ? "/" : "", column ? column : "");
}

typedef struct Teller {
    const CensusGame *game;
    CensusUse *use;
    void *context;
} Teller;

static void tell(const Teller *teller, const char *table, const char *row, const char *column, int moment)
{
    char name[CENSUS_NAME_SIZE];
    census_name(name, table, row, column);
    teller->use(teller->context, name, teller->game, moment);
}

/* The earliest of two files that were locked with one of these grades; NO_MOMENT if there is none. */
static int first_locked(const CensusGame *game, unsigned grades)
{
    int found = NO_MOMENT;
    for (int pair = 0; pair < CENSUS_PAIR_COUNT; pair++) {
        int moment = CENSUS_OF_PAIR + pair;
        if (!(game->pairs & 1U << pair) || !(grades & 1U << ps_grade_of_pairs(1U << pair)))
            continue;
        if (found == NO_MOMENT || (game->moments && game->moments[moment].ply < game->moments[found].ply))
            found = moment;
    }
    return found;
}

static void tell_pawns(const Teller *teller)
{
    const CensusGame *game = teller->game;
    unsigned grades = census_grades(game);
    for (int pair = 0; pair < CENSUS_PAIR_COUNT; pair++)
        if (game->pairs & 1U << pair)
            tell(teller, "pairs", ps_files_name(pair, pair + 1), NULL, CENSUS_OF_PAIR + pair);
    for (int grade = 0; grade < PS_GRADE_COUNT; grade++)
        if (grades & 1U << grade)
            tell(teller, "grades", ps_grade_name(grade), NULL, first_locked(game, 1U << grade));
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        if (game->near_misses & 1U << i)
            tell(teller, "near-misses", ps_near_miss_name(i), "games", CENSUS_OF_NEAR_MISS + i);
        if (game->lasting & 1U << i)
            tell(teller, "near-misses", ps_near_miss_name(i), "lasting", CENSUS_OF_LASTING + i);
    }
}

/* A game in a row of openings, years or ratings. */
static void tell_group(const Teller *teller, const char *table, const char *row)
{
    int any = first_locked(teller->game, ~(1U << PS_VOID));
    tell(teller, table, row, "games", NO_MOMENT);
    if (any != NO_MOMENT)
        tell(teller, table, row, "any", any);
    if (teller->game->de_ply > 0)
        tell(teller, table, row, "de", DE_MOMENT);
}

static void tell_groups(const Teller *teller)
{
    const CensusGame *game = teller->game;
    int year = census_year(game), band = census_band(game);
    char text[CENSUS_LINE_SIZE];
    if (game->eco >= 0) {
        census_eco_text(game->eco, text);
        tell_group(teller, "codes", text);
        text[1] = '\0';
        tell_group(teller, "openings", text);
    }
    if (game->first_moves != 0) {
        census_line_text(game->first_moves, text);
        tell_group(teller, "first-moves", text);
    }
    if (year >= 0) {
        snprintf(text, sizeof text, "%d", game->year);
        tell_group(teller, "years", text);
        snprintf(text, sizeof text, "%ds", game->year / 10 * 10);
        tell_group(teller, "decades", text);
    }
    if (band >= 0)
        tell_group(teller, "ratings", rating_band_names[band]);
}

/* Sides and who of them played the lever. */
static void tell_share(const Teller *teller, const char *table, const char *row, Side side)
{
    tell(teller, table, row, "sides", DE_MOMENT);
    if (teller->game->side[side].base_ply > 0)
        tell(teller, table, row, "played", CENSUS_OF_BASE + (int)side);
}

static void tell_result(const Teller *teller, Side side)
{
    const CensusGame *game = teller->game;
    const CensusSide *s = &game->side[side];
    int landmark = game->de_ply + CENSUS_LANDMARK;
    bool played = s->base_ply > 0 && s->base_ply <= landmark;
    char row[32];
    if (game->plies <= landmark || game->result == PGN_NO_RESULT)
        return;
    bool won = (game->result == PGN_WHITE_WINS) == (side == WHITE);
    const char *result = game->result == PGN_DRAW ? "drawn" : won ? "won" : "lost";
    int moment = played ? CENSUS_OF_BASE + (int)side : DE_MOMENT;
    snprintf(row, sizeof row, "%s/%s", ps_side_name((ps_side)side), played ? "played" : "not-played");
    tell(teller, "results", row, "games", moment);
    tell(teller, "results", row, result, moment);
}

static void tell_side(const Teller *teller, Side side)
{
    const CensusGame *game = teller->game;
    const CensusSide *s = &game->side[side];
    const char *name = ps_side_name((ps_side)side);
    const char *status =
        census_status_name(s->status == PS_NO_STATUS ? (int)CENSUS_NO_LEVER : (int)s->status);
    char row[64];
    snprintf(row, sizeof row, "%s/%s", ps_verdict_name(s->verdict), status);
    tell(teller, "first-de", row, name, DE_MOMENT);
    if (s->base_ply > 0)
        tell(teller, "levers", name, "base", CENSUS_OF_BASE + (int)side);
    if (s->head_ply > 0)
        tell(teller, "levers", name, "head", CENSUS_OF_HEAD + (int)side);
    tell_share(teller, "by-status", status, side);
    if (!census_is_live(s->status))
        return;
    tell_result(teller, side);
    if (game->rating[side] > 0)
        tell_share(teller, "by-rating", rating_band_names[rating_band(game->rating[side])], side);
}

static void tell_first(const Teller *teller)
{
    int first = census_first(teller->game), named = teller->game->first_to_break;
    char row[32];
    if (first == PS_NOBODY) {
        tell(teller, "first", "neither", NULL, DE_MOMENT);
        return;
    }
    int moment = CENSUS_OF_BASE + first;
    tell(teller, "first", ps_side_name((ps_side)first), NULL, moment);
    if (named == PS_NOBODY)
        return;
    snprintf(row, sizeof row, "always-%s", ps_side_name((ps_side)first));
    tell(teller, "first", row, NULL, moment);
    if (first == named)
        tell(teller, "first", "foretold", NULL, moment);
}

void census_numbers(const CensusGame *game, CensusUse *use, void *context)
{
    const Teller teller = {game, use, context};
    tell_pawns(&teller);
    tell_groups(&teller);
    if (game->de_ply == 0)
        return;
    for (Side side = WHITE; side <= BLACK; side++)
        tell_side(&teller, side);
    tell_first(&teller);
}
