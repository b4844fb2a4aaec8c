#include "bench/census/census.h"
#include "bench/pgn/pgn_rating.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"

#include <stdlib.h>
#include <string.h>

enum { DE_PAIR = 3, TEXT_SIZE = 256 };

/* "B12", "B12/03"; the letter may be small. */
static int read_eco(const PgnGame *game)
{
    PgnText text;
    if (!pgn_tag(game, "ECO", &text) || text.length < 3)
        return -1;
    int letter = (text.start[0] | 0x20) - 'a', tens = text.start[1] - '0', ones = text.start[2] - '0';
    bool good = letter >= 0 && letter < 5 && tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9;
    return good ? letter * 100 + tens * 10 + ones : -1;
}

void census_eco_text(int eco, char text[CENSUS_ECO_SIZE])
{
    text[0] = (char)('A' + eco / 100);
    text[1] = (char)('0' + eco / 10 % 10);
    text[2] = (char)('0' + eco % 10);
    text[3] = '\0';
}

static char *read_opening(const PgnGame *game)
{
    char name[TEXT_SIZE];
    PgnText text;
    if (!pgn_tag(game, "Opening", &text))
        return NULL;
    pgn_text_copy(text, name, sizeof name);
    return strcmp(name, "?") == 0 || *name == '\0' ? NULL : strdup(name);
}

void census_begin(CensusWatch *watch, const PgnGame *game)
{
    census_game_free(&watch->game);
    watch->watching = true;
    /* Any other key: the first ply must look at the pawns, even if it leaves them alone. */
    watch->pawn_key = ~game->start.pawn_key;
    watch->game = (CensusGame){
        .number = game->number, .line = game->line, .eco = read_eco(game), .stratum = STRATUM_OTHER};
    watch->game.rating[WHITE] = pgn_rating(game, "WhiteElo");
    watch->game.rating[BLACK] = pgn_rating(game, "BlackElo");
    if (watch->wants_opening)
        watch->game.opening = read_opening(game);
}

static void note_first_moment(CensusWatch *watch, const Position *position, int ply)
{
    CensusGame *game = &watch->game;
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    game->de_ply = ply;
    game->first_to_break = analysis.first_to_break;
    for (int side = WHITE; side <= BLACK; side++) {
        const ps_chain_side *view = ps_plan_chain(&analysis, side);
        game->side[side] = (CensusSide){.verdict = analysis.plan[side].verdict,
                                        .status = view->base_lever.status,
                                        .base_lever = view->base_lever.square,
                                        .head_lever = view->head_lever.square};
    }
    if (watch->wants_fen && movegen_any(position)) {
        char fen[FEN_SIZE];
        fen_write(position, fen);
        game->fen = strdup(fen);
        game->chess960 = position->chess960;
        watch->memory_ran_out |= game->fen == NULL;
    }
}

static void look_at_pawns(CensusWatch *watch, const Position *position, int ply)
{
    const uint64_t pawns[2] = {position_men(position, WHITE, PAWN), position_men(position, BLACK, PAWN)};
    ps_overview overview = ps_read_overview(pawns);
    watch->game.pairs |= overview.pairs;
    watch->game.near_misses |= overview.near_misses;
    if (watch->game.de_ply == 0 && overview.pairs & 1U << DE_PAIR)
        note_first_moment(watch, position, ply);
}

static void look_at_push(CensusGame *game, const Position *position, Move move, int ply)
{
    Square to = move_to(move);
    if (position_role(position, to) != PAWN || file_of(move_from(move)) != file_of(to))
        return;
    CensusSide *side = &game->side[opposite(position_turn(position))];
    if (to == side->base_lever && side->base_ply == 0)
        side->base_ply = ply;
    if (to == side->head_lever && side->head_ply == 0)
        side->head_ply = ply;
}

void census_move(CensusWatch *watch, const PgnGame *game, Move move)
{
    const Position *position = &game->position;
    if (watch->game.stratum == STRATUM_OTHER && game->plies >= CENSUS_STRATUM_FROM &&
        game->plies <= CENSUS_STRATUM_TO)
        watch->game.stratum = stratum_of(position);
    if (move != NO_MOVE && watch->game.de_ply > 0)
        look_at_push(&watch->game, position, move, game->plies);
    if (position->pawn_key != watch->pawn_key) {
        watch->pawn_key = position->pawn_key;
        look_at_pawns(watch, position, game->plies);
    }
}

void census_end(CensusWatch *watch, const PgnGame *game)
{
    watch->game.plies = game->plies;
    watch->game.result = game->result;
    watch->watching = false;
}

void census_game_free(CensusGame *game)
{
    free(game->opening);
    free(game->fen);
    game->opening = game->fen = NULL;
}

int census_first(const CensusGame *game)
{
    int white = game->side[WHITE].base_ply, black = game->side[BLACK].base_ply;
    if (white == 0 && black == 0)
        return PS_NOBODY;
    return black == 0 || (white != 0 && white < black) ? PS_WHITE : PS_BLACK;
}
