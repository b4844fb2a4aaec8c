#include "bench/census/census.h"
#include "bench/pgn/pgn_rating.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/fen.h"
#include "engine/rules/movegen.h"
#include "engine/rules/notation.h"

#include <stdio.h>
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

static int read_year(const PgnGame *game)
{
    PgnText text;
    int year = 0;
    if (!pgn_tag(game, "Date", &text) || text.length < 4)
        return 0;
    for (int i = 0; i < 4; i++) {
        if (text.start[i] < '0' || text.start[i] > '9')
            return 0;
        year = 10 * year + (text.start[i] - '0');
    }
    return year;
}

static bool is_usual_start(const Position *position)
{
    static const char usual[] = FEN_START;
    char fen[FEN_SIZE];
    fen_write(position, fen);
    return strcmp(fen, usual) == 0;
}

void census_begin(CensusWatch *watch, const PgnGame *game)
{
    census_game_free(&watch->game);
    watch->near_misses = 0;
    watch->before = game->start;
    watch->watching = true;
    /* Any other key: the first ply must look at the pawns, even if it leaves them alone. */
    watch->pawn_key = ~game->start.pawn_key;
    watch->game = (CensusGame){
        .number = game->number, .line = game->line, .eco = read_eco(game), .stratum = STRATUM_OTHER};
    watch->game.year = read_year(game);
    watch->usual_start = watch->game.eco < 0 && is_usual_start(&game->start);
    if (watch->wants_moments) {
        watch->game.moments = calloc(CENSUS_MOMENT_COUNT, sizeof *watch->game.moments);
        watch->memory_ran_out |= watch->game.moments == NULL;
    }
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

/* Describes the present position, if that is wanted. */
static void describe(const CensusWatch *watch, const PgnGame *game, Move move, CensusMoment *moment)
{
    moment->ply = game->plies;
    if (!watch->wants_moments)
        return;
    fen_write(&game->position, moment->fen);
    pgn_numbered_move(&watch->before, move, moment->move);
}

static void note_moment(CensusWatch *watch, const PgnGame *game, Move move, int kind)
{
    if (watch->game.moments != NULL)
        describe(watch, game, move, &watch->game.moments[kind]);
}

static void note_moments(CensusWatch *watch, const PgnGame *game, Move move, unsigned set, int first)
{
    for (int i = 0; set != 0; i++, set >>= 1)
        if (set & 1)
            note_moment(watch, game, move, first + i);
}

/* Near misses that began long ago, and hold until this ply. */
static void note_lasting(CensusWatch *watch, int ply)
{
    CensusGame *game = &watch->game;
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++) {
        unsigned bit_of_it = 1U << i;
        if (!(watch->near_misses & bit_of_it) || game->lasting & bit_of_it ||
            ply - watch->since[i].ply < CENSUS_LASTING)
            continue;
        game->lasting |= bit_of_it;
        if (game->moments != NULL)
            game->moments[CENSUS_OF_LASTING + i] = watch->since[i];
    }
}

static void look_at_pawns(CensusWatch *watch, const PgnGame *pgn, Move move)
{
    const Position *position = &pgn->position;
    const int ply = pgn->plies;
    const uint64_t pawns[2] = {position_men(position, WHITE, PAWN), position_men(position, BLACK, PAWN)};
    ps_overview overview = ps_read_overview(pawns);
    note_moments(watch, pgn, move, overview.pairs & ~watch->game.pairs, CENSUS_OF_PAIR);
    note_moments(watch, pgn, move, overview.near_misses & ~watch->game.near_misses, CENSUS_OF_NEAR_MISS);
    note_lasting(watch, ply);
    for (int i = 0; i < PS_NEAR_MISS_COUNT; i++)
        if (overview.near_misses & ~watch->near_misses & 1U << i)
            describe(watch, pgn, move, &watch->since[i]);
    watch->near_misses = overview.near_misses;
    watch->game.pairs |= overview.pairs;
    watch->game.near_misses |= overview.near_misses;
    if (watch->game.de_ply == 0 && overview.pairs & 1U << DE_PAIR)
        note_first_moment(watch, position, ply);
}

static void look_at_push(CensusWatch *watch, const PgnGame *pgn, Move move)
{
    const Position *position = &pgn->position;
    Square to = move_to(move);
    if (position_role(position, to) != PAWN || file_of(move_from(move)) != file_of(to))
        return;
    Side mover = opposite(position_turn(position));
    CensusSide *side = &watch->game.side[mover];
    if (to == side->base_lever && side->base_ply == 0) {
        side->base_ply = pgn->plies;
        note_moment(watch, pgn, move, CENSUS_OF_BASE + (int)mover);
    }
    if (to == side->head_lever && side->head_ply == 0) {
        side->head_ply = pgn->plies;
        note_moment(watch, pgn, move, CENSUS_OF_HEAD + (int)mover);
    }
}

void census_move(CensusWatch *watch, const PgnGame *game, Move move)
{
    const Position *position = &game->position;
    if (watch->game.stratum == STRATUM_OTHER && game->plies >= CENSUS_STRATUM_FROM &&
        game->plies <= CENSUS_STRATUM_TO)
        watch->game.stratum = stratum_of(position);
    if (watch->usual_start && game->plies <= CENSUS_LINE_PLIES)
        watch->game.first_moves |= (uint64_t)move << 16 * (game->plies - 1);
    if (move != NO_MOVE && watch->game.de_ply > 0)
        look_at_push(watch, game, move);
    if (position->pawn_key != watch->pawn_key) {
        watch->pawn_key = position->pawn_key;
        look_at_pawns(watch, game, move);
    }
    if (watch->wants_moments)
        watch->before = *position;
}

void census_end(CensusWatch *watch, const PgnGame *game)
{
    note_lasting(watch, game->plies);
    watch->game.plies = game->plies;
    watch->game.result = game->result;
    watch->watching = false;
}

void census_game_free(CensusGame *game)
{
    free(game->opening);
    free(game->fen);
    free(game->moments);
    game->opening = game->fen = NULL;
    game->moments = NULL;
}

void census_line_text(uint64_t first_moves, char text[CENSUS_LINE_SIZE])
{
    Position position;
    size_t length = 0;
    *text = '\0';
    if (fen_parse(FEN_START, false, &position, NULL) != FEN_OK)
        return;
    for (; first_moves != 0 && length < CENSUS_LINE_SIZE; first_moves >>= 16) {
        Move move = (Move)(first_moves & 0xffff);
        char san[MOVE_TEXT_SIZE] = "--", number[16] = "";
        if (position_turn(&position) == WHITE)
            snprintf(number, sizeof number, "%d.", position.fullmove);
        if (move != NO_MOVE)
            san_write(&position, move, san);
        length += (size_t)snprintf(text + length, CENSUS_LINE_SIZE - length, "%s%s%s", length ? " " : "",
                                   number, san);
        if (move == NO_MOVE)
            position_pass(&position);
        else
            position_play(&position, move);
    }
}

int census_first(const CensusGame *game)
{
    int white = game->side[WHITE].base_ply, black = game->side[BLACK].base_ply;
    if (white == 0 && black == 0)
        return PS_NOBODY;
    return black == 0 || (white != 0 && white < black) ? PS_WHITE : PS_BLACK;
}
