#include "bench/forecast/forecast_price.h"
#include "bench/base/complaint.h"
#include "bench/base/random.h"
#include "bench/contrast/judge.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>

const ForecastSettings default_forecast_settings = {
    .nodes = 10000, .plies = 60, .playout_nodes = 1000, .seed = 1};

/* ------------------------------------------------------------------------------------------------ prices */

static void sort_moves(const Position *position, Move named, MoveList lists[FORECAST_PRICED_COUNT])
{
    MoveList all;
    movegen_all(position, &all);
    for (int i = 0; i < all.count; i++) {
        Move move = all.moves[i];
        ForecastPriced kind = move == named                       ? FORECAST_NAMED_LEVER
                              : forecast_is_lever(position, move) ? FORECAST_OTHER_LEVER
                                                                  : FORECAST_NO_LEVER_MOVE;
        lists[kind].moves[lists[kind].count++] = move;
    }
}

static Move choose(Player *player, const Game *game, const MoveList *moves, int64_t nodes)
{
    SearchResult result;
    if (moves->count <= 1)
        return moves->count == 1 ? moves->moves[0] : NO_MOVE;
    think_cold(player, game, &(SearchLimits){.nodes = (uint64_t)nodes, .only = moves}, NULL, &result);
    return result.best;
}

static void judge(Player *player, const Game *game, const MoveList lists[FORECAST_PRICED_COUNT],
                  int64_t nodes, ForecastPrice *price)
{
    Thoughts thoughts[FORECAST_PRICED_COUNT];
    price->depth = MAX_PLY;
    for (int kind = 0; kind < (int)FORECAST_PRICED_COUNT; kind++) {
        price->moves[kind] = choose(player, game, &lists[kind], nodes);
        if (price->moves[kind] == NO_MOVE)
            continue;
        judge_alone(player, game, price->moves[kind], (uint64_t)nodes, &thoughts[kind]);
        if (thoughts[kind].deepest < price->depth)
            price->depth = thoughts[kind].deepest;
    }
    for (int kind = 0; kind < (int)FORECAST_PRICED_COUNT; kind++)
        if (price->moves[kind] != NO_MOVE)
            price->scores[kind] = thoughts[kind].scores[price->depth];
}

bool forecast_price(Player *player, const Position *position, int64_t nodes, ForecastPrice *price)
{
    ps_analysis analysis;
    Game game;
    Side side = position_turn(position);
    structure_analyse(position, &analysis);
    MoveList lists[FORECAST_PRICED_COUNT] = {0};
    Move named = forecast_named_lever(position, &analysis);
    sort_moves(position, named, lists);
    if (named == NO_MOVE || lists[FORECAST_OTHER_LEVER].count + lists[FORECAST_NO_LEVER_MOVE].count == 0 ||
        !game_start(&game, position))
        return false;
    *price = (ForecastPrice){.key = position->key,
                             .side = (uint8_t)side,
                             .verdict = (uint8_t)analysis.plan[side].verdict,
                             .grade = (uint8_t)analysis.chains[analysis.plan[side].chain].grade,
                             .status = (uint8_t)ps_plan_lever(&analysis, (ps_side)side)->status,
                             .points = {FORECAST_NOT_PLAYED_OUT, FORECAST_NOT_PLAYED_OUT}};
    judge(player, &game, lists, nodes, price);
    game_free(&game);
    bool lever = price->moves[FORECAST_OTHER_LEVER] != NO_MOVE,
         other = price->moves[FORECAST_NO_LEVER_MOVE] != NO_MOVE;
    price->rival = (int8_t)(lever && (!other || price->scores[FORECAST_OTHER_LEVER] >
                                                    price->scores[FORECAST_NO_LEVER_MOVE])
                                ? FORECAST_OTHER_LEVER
                                : FORECAST_NO_LEVER_MOVE);
    return true;
}

double forecast_gained_chance(const ForecastPrice *price, ForecastPriced other)
{
    return winning_chance(price->scores[FORECAST_NAMED_LEVER]) - winning_chance(price->scores[other]);
}

int forecast_gained_centipawns(const ForecastPrice *price, ForecastPriced other)
{
    return judged_cut_off(price->scores[FORECAST_NAMED_LEVER]) - judged_cut_off(price->scores[other]);
}

/* ----------------------------------------------------------------------------------------------- playing */

struct ForecastReferee {
    Arm arm;
    Contestant *players[2];
    GameRecord record;
};

ForecastReferee *forecast_referee_new(int table_mib)
{
    ForecastReferee *referee = calloc(1, sizeof *referee);
    if (referee == NULL) {
        complain(NULL, 0, "memory ran out");
        return NULL;
    }
    referee->arm = default_arm;
    referee->arm.weight = 0;
    for (int side = WHITE; side <= BLACK; side++)
        referee->players[side] = contestant_new(&referee->arm, table_mib);
    if (referee->players[WHITE] != NULL && referee->players[BLACK] != NULL)
        return referee;
    forecast_referee_free(referee);
    return NULL;
}

void forecast_referee_free(ForecastReferee *referee)
{
    if (referee == NULL)
        return;
    contestant_free(referee->players[WHITE]);
    contestant_free(referee->players[BLACK]);
    free(referee);
}

/* Half points of White in the game after a move. */
static bool play_after(ForecastReferee *referee, const Position *position, Move move, int *white_points)
{
    Position after = *position;
    position_play(&after, move);
    if (!play_game(referee->players, &after, &(TimeControl){0}, &default_adjudication, &referee->record))
        return false;
    *white_points = referee->record.white_points;
    return true;
}

bool forecast_play_out(ForecastReferee *referee, const Position *position, const ForecastSettings *settings,
                       ForecastPrice *price)
{
    Random random = random_for_job((uint64_t)settings->seed, position->key);
    const Move moves[2] = {price->moves[FORECAST_NAMED_LEVER], price->moves[price->rival]};
    for (int i = 0; i < 2; i++) {
        int white_points;
        referee->arm.nodes = settings->playout_nodes / 2 +
                             (int64_t)random_below(&random, (uint64_t)settings->playout_nodes + 1);
        if (!play_after(referee, position, moves[i], &white_points))
            return false;
        price->points[i] = (int8_t)(price->side == WHITE ? white_points : 2 - white_points);
    }
    return true;
}
