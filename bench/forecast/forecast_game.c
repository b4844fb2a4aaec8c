#include "bench/forecast/forecast_game.h"
#include "bench/base/random.h"
#include "bench/pgn/pgn_rating.h"
#include "engine/evaluation/structure_view.h"
#include "engine/rules/movegen.h"

#define NEAR_MISSES (1U << FORECAST_NOT_LINKED | 1U << FORECAST_SAME_WAY | 1U << FORECAST_NOT_RAMMED)
#define WITH_CHOICES (1U << FORECAST_FIRM | 1U << FORECAST_NOT_RAMMED)

static const char *const moment_names[FORECAST_MOMENT_COUNT] = {
    "firm", "likely", "doubtful", "not_linked", "same_way", "not_rammed", "rim"};

const char *forecast_moment_name(ForecastMoment moment)
{
    return moment_names[moment];
}

const char *forecast_moment_words(ForecastMoment moment)
{
    static const char *const words[FORECAST_MOMENT_COUNT] = {
        "firm", "likely", "doubtful", "not linked", "same way", "not rammed", "rim"};
    return words[moment];
}

const char *forecast_verdict_name(int verdict)
{
    return verdict == FORECAST_LINKED ? "linked" : ps_verdict_name((ps_verdict)verdict);
}

ps_region forecast_region(int square)
{
    static const ps_region regions[FILE_COUNT] = {PS_QUEENSIDE, PS_QUEENSIDE, PS_QUEENSIDE, PS_CENTRE,
                                                  PS_CENTRE,    PS_KINGSIDE,  PS_KINGSIDE,  PS_KINGSIDE};
    return square == PS_NO_SQUARE ? PS_NO_REGION : regions[file_of((Square)square)];
}

static uint64_t mix(uint64_t hash, uint64_t value)
{
    uint64_t state = hash ^ value;
    return random_split_mix(&state);
}

uint64_t forecast_opening(const ForecastGame *game, const ForecastRow *row)
{
    int plies = row->ply < FORECAST_OPENING_PLIES ? row->ply : FORECAST_OPENING_PLIES;
    uint64_t hash = mix(game->start, (uint64_t)plies);
    for (int i = 0; i < plies; i++)
        hash = mix(hash, game->opening[i]);
    return hash;
}

/* ------------------------------------------------------------------------------------------- the moments */

static ForecastRow *add_row(ForecastWatch *watch, const PgnGame *game, ForecastMoment moment, Side side)
{
    const Position *position = &game->position;
    ForecastRow *row = &watch->game.rows[watch->game.row_count++];
    bool earlier = watch->earlier_ply[side] > 0 && watch->earlier_ply[side] < game->plies;
    *row = (ForecastRow){
        .moment = (uint8_t)moment,
        .side = (uint8_t)side,
        .lever = PS_NO_SQUARE,
        .first = PS_NO_SQUARE,
        .earlier = earlier ? watch->earlier[side] : PS_NO_SQUARE,
        .kings = {(int8_t)position_king(position, side), (int8_t)position_king(position, opposite(side))},
        .ply = game->plies};
    if (WITH_CHOICES >> moment & 1) {
        row->first_choice = (uint8_t)watch->game.choice_count;
        row->choice_count =
            (uint8_t)forecast_choices(position, side, watch->game.choices + row->first_choice);
        watch->game.choice_count += row->choice_count;
    }
    return row;
}

static void note_grade(ForecastWatch *watch, const PgnGame *game, ForecastMoment moment)
{
    ps_analysis analysis;
    structure_analyse(&game->position, &analysis);
    for (int side = WHITE; side <= BLACK; side++) {
        ForecastRow *row = add_row(watch, game, moment, (Side)side);
        row->verdict = (uint8_t)analysis.plan[side].verdict;
        row->region = (uint8_t)analysis.plan[side].region;
        row->lever = (int8_t)ps_plan_lever(&analysis, (ps_side)side)->square;
    }
}

/* The lever square that the most advanced linked d/e pawns name that point to that wing. */
static Square linked_lever(Side side, Bitboard pawns, bool kingside)
{
    Bitboard d = pawns & file_mask(FILE_D), e = pawns & file_mask(FILE_E);
    Bitboard heads = kingside ? pawn_attacks(side, d) & e : pawn_attacks(side, e) & d;
    if (heads == 0)
        return NO_SQUARE;
    Square head = side == WHITE ? last_square(heads) : first_square(heads);
    return kingside ? head + 1 : head - 1;
}

static void note_near_miss(ForecastWatch *watch, const PgnGame *game, ForecastMoment moment)
{
    for (int side = WHITE; side <= BLACK; side++) {
        Bitboard pawns = position_men(&game->position, (Side)side, PAWN);
        for (int kingside = 0; kingside <= 1; kingside++) {
            Square lever = linked_lever((Side)side, pawns, kingside != 0);
            if (lever == NO_SQUARE)
                continue;
            ForecastRow *row = add_row(watch, game, moment, (Side)side);
            row->verdict = FORECAST_LINKED;
            row->region = kingside ? PS_KINGSIDE : PS_QUEENSIDE;
            row->lever = (int8_t)lever;
        }
    }
}

/* False if there is a chain on the rim, but no void one: it goes on. */
static bool note_rim(ForecastWatch *watch, const PgnGame *game)
{
    ps_analysis analysis;
    int direction = 0, lever = PS_NO_SQUARE;
    bool agreed = true;
    structure_analyse(&game->position, &analysis);
    for (int i = 0; i < analysis.chain_count; i++) {
        const ps_chain_side *view = &analysis.chains[i].side[WHITE];
        if (analysis.chains[i].grade != PS_VOID)
            continue;
        agreed &= direction == 0 || direction == view->direction;
        direction = view->direction;
        lever = i;
    }
    for (int side = WHITE; side <= BLACK && direction != 0 && agreed; side++) {
        const ps_chain_side *view = &analysis.chains[lever].side[side];
        ForecastRow *row = add_row(watch, game, FORECAST_RIM, (Side)side);
        row->verdict = PS_NONE;
        row->region = view->direction > 0 ? PS_KINGSIDE : PS_QUEENSIDE;
        row->lever = (int8_t)view->base_lever.square;
    }
    return direction != 0;
}

/* Which moments the pawns are, of those that are still to come. */
static unsigned find_moments(const ForecastWatch *watch, const Position *position)
{
    static const ForecastMoment of_grade[PS_GRADE_COUNT] = {
        [PS_FIRM] = FORECAST_FIRM, [PS_LIKELY] = FORECAST_LIKELY, [PS_DOUBTFUL] = FORECAST_DOUBTFUL};
    static const ForecastMoment of_near_miss[PS_NEAR_MISS_COUNT] = {FORECAST_NOT_LINKED, FORECAST_SAME_WAY,
                                                                    FORECAST_NOT_RAMMED, FORECAST_RIM};
    const uint64_t pawns[2] = {position_men(position, WHITE, PAWN), position_men(position, BLACK, PAWN)};
    ps_overview overview = ps_read_overview(pawns);
    ps_grade grade = ps_grade_of_pairs(overview.pairs);
    unsigned found = grade > PS_VOID ? 1U << of_grade[grade] : 0;
    for (int i = 0; i < (int)PS_NEAR_MISS_COUNT; i++)
        if (overview.near_misses >> i & 1)
            found |= 1U << of_near_miss[i];
    return found & ~watch->seen;
}

static void look_at_pawns(ForecastWatch *watch, const PgnGame *game)
{
    unsigned found = find_moments(watch, &game->position);
    watch->seen |= found;
    /* After a firm moment there are no near misses any more. */
    if (found & 1U << FORECAST_FIRM)
        watch->seen |= NEAR_MISSES;
    for (int moment = 0; moment < (int)FORECAST_MOMENT_COUNT && found >> moment; moment++) {
        if ((found >> moment & 1) == 0)
            continue;
        if (moment <= (int)FORECAST_DOUBTFUL)
            note_grade(watch, game, (ForecastMoment)moment);
        else if (moment < (int)FORECAST_RIM)
            note_near_miss(watch, game, (ForecastMoment)moment);
        else if (!note_rim(watch, game))
            watch->seen &= ~(1U << FORECAST_RIM);
    }
}

/* --------------------------------------------------------------------------------------------- the levers */

int forecast_choices(const Position *position, Side side, ForecastChoice choices[FORECAST_CHOICES_MAX])
{
    Bitboard own = position_men(position, side, PAWN), pawns = position->by_role[PAWN];
    Bitboard attacking = pawn_attacks(opposite(side), pawns & ~own);
    int step = forward_step(side), count = 0;
    ps_board board;
    structure_view(position, &board);
    while (own != 0) {
        Square pawn = take_first(&own);
        int blockers = 0;
        for (Square goal = pawn + step; relative_rank(side, goal) < RANK_8 && (pawns & bit(goal)) == 0;
             goal += step) {
            int ranks = relative_rank(side, goal) - relative_rank(side, pawn);
            bool may_jump = relative_rank(side, pawn) == RANK_2 && ranks >= 2;
            blockers += (position_occupied(position) & bit(goal)) != 0;
            if ((attacking & bit(goal)) == 0)
                continue;
            int supporters = board.count_attackers(board.host, goal, side, pawn);
            int attackers = board.count_attackers(board.host, goal, opposite(side), pawn);
            choices[count++] = (ForecastChoice){.goal = (int8_t)goal,
                                                .steps = (uint8_t)(may_jump ? ranks - 1 : ranks),
                                                .blockers = (uint8_t)blockers,
                                                .support = (int8_t)(supporters - attackers)};
        }
    }
    return count;
}

static bool attacks_pawn(const Position *position, Side side, Square square)
{
    return (pawn_attacks_from(side, square) & position_men(position, opposite(side), PAWN)) != 0;
}

bool forecast_is_lever(const Position *before, Move move)
{
    Square from = move_from(move), to = move_to(move);
    return position_role(before, from) == PAWN && file_of(from) == file_of(to) && !move_is_promotion(move) &&
           attacks_pawn(before, position_turn(before), to);
}

/* The same of a move that has been played. */
static bool was_lever(const Position *position, Move move)
{
    Square to = move_to(move);
    return position_role(position, to) == PAWN && file_of(move_from(move)) == file_of(to) &&
           attacks_pawn(position, opposite(position_turn(position)), to);
}

Move forecast_named_lever(const Position *position, const ps_analysis *analysis)
{
    Side side = position_turn(position);
    const ps_lever *lever = ps_plan_lever(analysis, (ps_side)side);
    if (analysis->plan[side].verdict == PS_NONE || !ps_lever_is_live(lever) || lever->steps != 1)
        return NO_MOVE;
    Move move = move_make((Square)lever->pawn, (Square)lever->square, 0);
    return movegen_is_legal(position, move) ? move : NO_MOVE;
}

/* For each position, as a lever can be freed by a piece. */
static void look_for_playable(ForecastWatch *watch, const Position *position)
{
    const uint64_t pawns[2] = {position_men(position, WHITE, PAWN), position_men(position, BLACK, PAWN)};
    ps_analysis analysis;
    if (*watch->game.playable || ps_grade_of_pairs(ps_read_overview(pawns).pairs) <= PS_VOID)
        return;
    structure_analyse(position, &analysis);
    if (forecast_named_lever(position, &analysis) != NO_MOVE)
        fen_write(position, watch->game.playable);
}

static void note_lever(ForecastWatch *watch, const PgnGame *game, Square goal)
{
    Side side = opposite(position_turn(&game->position));
    if (game->plies > FORECAST_OPENING_PLIES && watch->earlier_ply[side] == 0) {
        watch->earlier_ply[side] = game->plies;
        watch->earlier[side] = (int8_t)goal;
    }
    for (int i = 0; i < watch->game.row_count; i++) {
        ForecastRow *row = &watch->game.rows[i];
        if (row->side == side && row->first_ply == 0) {
            row->first_ply = game->plies;
            row->first = (int8_t)goal;
        }
    }
}

/* ------------------------------------------------------------------------------------------- the game */

ForecastWatch forecast_watch(void)
{
    Position initial;
    fen_parse(FEN_START, false, &initial, NULL);
    return (ForecastWatch){.initial = initial.key};
}

void forecast_begin(ForecastWatch *watch, const PgnGame *game)
{
    /* Any other key: the first ply must look at the pawns, even if it leaves them alone. */
    *watch = (ForecastWatch){.initial = watch->initial,
                             .pawn_key = ~game->start.pawn_key,
                             .wants_playable = watch->wants_playable};
    watch->game.line = game->line;
    watch->game.start = game->start.key == watch->initial ? 0 : game->start.key;
    watch->game.hash = watch->game.start;
    watch->game.rating[WHITE] = pgn_rating(game, "WhiteElo");
    watch->game.rating[BLACK] = pgn_rating(game, "BlackElo");
}

void forecast_move(ForecastWatch *watch, const PgnGame *game, Move move)
{
    const Position *position = &game->position;
    watch->game.hash = mix(watch->game.hash, move);
    if (game->plies <= FORECAST_OPENING_PLIES)
        watch->game.opening[game->plies - 1] = move;
    if (watch->wants_playable)
        look_for_playable(watch, position);
    if (position->pawn_key == watch->pawn_key)
        return;
    watch->pawn_key = position->pawn_key;
    if (move != NO_MOVE && was_lever(position, move))
        note_lever(watch, game, move_to(move));
    look_at_pawns(watch, game);
}

void forecast_end(ForecastWatch *watch, const PgnGame *game)
{
    watch->game.plies = game->plies;
    watch->game.result = game->result;
}

bool forecast_begin_at(ForecastWatch *watch, PgnGame *game, const Position *position)
{
    *game = (PgnGame){.start = *position, .position = *position, .plies = 1};
    *watch = (ForecastWatch){.initial = watch->initial,
                             .pawn_key = position->pawn_key,
                             .seen = 1U << FORECAST_RIM,
                             .game = {.start = position->key, .hash = position->key}};
    look_at_pawns(watch, game);
    watch->seen = ~0U;
    return watch->game.row_count > 0;
}

bool forecast_is_answered(const ForecastGame *game)
{
    for (int i = 0; i < game->row_count; i++)
        if (game->rows[i].first_ply == 0)
            return false;
    return true;
}
