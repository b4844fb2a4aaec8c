#include "bench/spar/spar_match.h"
#include "bench/pgn/pgn.h"

#include <stdio.h>

/* The games that a player of chess would claim as drawn are drawn. */
static void look_for_end(SparMatch *match)
{
    bool over = game_end(&match->game, true) != GAME_GOES_ON || match->plies == SPAR_PLIES_MAX;
    match->end = over ? SPAR_OVER : SPAR_GOES_ON;
}

bool spar_match_start(SparMatch *match, const Position *start)
{
    match->start = *start;
    match->plies = 0;
    plan_notes_start(&match->notes, start);
    player_forget(match->player);
    if (!game_start(&match->game, start))
        return false;
    look_for_end(match);
    return true;
}

bool spar_match_play(SparMatch *match, Move move)
{
    plan_notes_move(&match->notes, &match->game.position, move);
    if (!game_play(&match->game, move))
        return false;
    match->moves[match->plies++] = move;
    look_for_end(match);
    return true;
}

bool spar_match_answer(SparMatch *match, Move *move, SparChoice *choice)
{
    SearchResult result;
    player_prepare(match->player, false);
    spar_think(match->player, &match->sparring, &match->game, &match->limits, NULL, &result, choice);
    *move = result.best;
    return result.best != NO_MOVE && spar_match_play(match, result.best);
}

/* Whose turn it was after so many plies. */
static Side turn_after(const SparMatch *match, int plies)
{
    Side first = position_turn(&match->start);
    return plies % 2 == 0 ? first : opposite(first);
}

bool spar_match_take_back(SparMatch *match, bool *took)
{
    int plies = match->plies - 1;
    while (plies >= 0 && turn_after(match, plies) != match->pupil)
        plies--;
    *took = plies >= 0;
    if (!*took)
        return true;
    game_free(&match->game);
    if (!game_start(&match->game, &match->start))
        return false;
    match->plies = 0;
    plan_notes_start(&match->notes, &match->start);
    look_for_end(match);
    bool good = true;
    while (good && match->plies < plies)
        good = spar_match_play(match, match->moves[match->plies]);
    return good;
}

void spar_match_free(SparMatch *match)
{
    game_free(&match->game);
}

const char *spar_match_result(const SparMatch *match)
{
    Side loser = match->end == SPAR_RESIGNED ? match->pupil : position_turn(&match->game.position);
    bool lost = match->end == SPAR_RESIGNED ||
                (match->end == SPAR_OVER && game_end(&match->game, true) == GAME_CHECKMATE);
    if (lost)
        return pgn_result_texts[loser == WHITE ? PGN_BLACK_WINS : PGN_WHITE_WINS];
    return pgn_result_texts[match->end == SPAR_OVER ? PGN_DRAW : PGN_NO_RESULT];
}

void spar_match_end_text(const SparMatch *match, char *text, size_t size)
{
    GameEnd end = game_end(&match->game, true);
    bool pupil_is_to_move = position_turn(&match->game.position) == match->pupil;
    if (match->end == SPAR_RESIGNED)
        snprintf(text, size, "You have resigned: %s.", spar_match_result(match));
    else if (match->end == SPAR_LEFT)
        snprintf(text, size, "The game is left unfinished.");
    else if (end == GAME_CHECKMATE)
        snprintf(text, size, "Checkmate. %s: %s.", pupil_is_to_move ? "You have lost" : "You have won",
                 spar_match_result(match));
    else
        snprintf(text, size, "The game is a draw (%s): %s.",
                 end == GAME_GOES_ON ? "it is too long to go on" : game_end_text(end),
                 spar_match_result(match));
}
