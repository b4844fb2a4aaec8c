#include "bench/play/contestant.h"
#include "bench/base/complaint.h"
#include "bench/play/arm_options.h"
#include "engine/search/clock.h"

#include <stdlib.h>

struct Contestant {
    const Arm *arm;
    int table_mib;
    Player *player;    /* of an arm that is built in */
    UciClient *client; /* of a program; null while none has been started */
    uint64_t nodes;    /* that the last choice took, of an arm that is built in */
};

/* What the client has come to, after a call that did not succeed. */
static Answer answer_of_fault(const Contestant *contestant)
{
    switch (uci_client_fault(contestant->client)) {
    case UCI_NO_START:
        complain(contestant->arm->engine, 0, "%s", uci_client_fault_text(contestant->client));
        return ANSWER_NONE;
    case UCI_SOUND: /* an option is missing (reported) */
        return ANSWER_NONE;
    default:
        return ANSWER_FAULT;
    }
}

static Answer start_program(Contestant *contestant)
{
    const Arm *arm = contestant->arm;
    contestant->client = uci_client_start(arm->engine, arm->patience_ms);
    if (!contestant->client)
        return ANSWER_NONE;
    bool good = uci_client_fault(contestant->client) == UCI_SOUND &&
                arm_options_fit(contestant->client, arm) &&
                arm_options_set(contestant->client, arm, contestant->table_mib);
    return good ? ANSWER_GIVEN : answer_of_fault(contestant);
}

static bool start_player(Contestant *contestant)
{
    const Arm *arm = contestant->arm;
    int table_mib = contestant->table_mib;
    contestant->player = player_new((size_t)table_mib);
    if (!contestant->player) {
        complain(NULL, 0, "memory ran out; expected room for tables of %d MiB", table_mib);
        return false;
    }
    PlayerSettings *settings = player_settings(contestant->player);
    settings->lever_weight = arm->weight;
    settings->lever_rule = arm->rule;
    settings->parameters = arm->parameters;
    return true;
}

Contestant *contestant_new(const Arm *arm, int table_mib)
{
    Contestant *contestant = calloc(1, sizeof *contestant);
    if (!contestant) {
        complain(NULL, 0, "memory ran out");
        return NULL;
    }
    contestant->arm = arm;
    contestant->table_mib = table_mib;
    if (arm->engine || start_player(contestant))
        return contestant;
    contestant_free(contestant);
    return NULL;
}

void contestant_free(Contestant *contestant)
{
    if (!contestant)
        return;
    player_free(contestant->player);
    uci_client_stop(contestant->client);
    free(contestant);
}

Player *contestant_player(Contestant *contestant)
{
    return contestant->player;
}

Answer contestant_new_game(Contestant *contestant)
{
    if (!contestant->arm->engine) {
        player_forget(contestant->player);
        return ANSWER_GIVEN;
    }
    if (contestant->client && uci_client_fault(contestant->client) != UCI_SOUND) {
        uci_client_stop(contestant->client);
        contestant->client = NULL;
    }
    Answer answer = contestant->client ? ANSWER_GIVEN : start_program(contestant);
    if (answer != ANSWER_GIVEN || uci_client_new_game(contestant->client))
        return answer;
    return answer_of_fault(contestant);
}

UciFault contestant_fault(const Contestant *contestant)
{
    return uci_client_fault(contestant->client);
}

const char *contestant_fault_text(const Contestant *contestant)
{
    return uci_client_fault_text(contestant->client);
}

static SearchLimits player_limits(const Arm *arm, const TimeControl *time, int64_t left_ms, int move)
{
    SearchLimits limits = {.nodes = (uint64_t)arm->nodes,
                           .hard_ms = time->move_ms,
                           .pace = (uint64_t)time->pace,
                           .alone = time->pace > 0};
    if (time->clock_ms) {
        /* A clock that goes by nodes is never late. */
        const ClockState clock = {.left = left_ms,
                                  .increment = time->increment_ms,
                                  .reserve = time->pace ? 0 : CLOCK_RESERVE,
                                  .move = move};
        ClockShare share = clock_share(&arm->parameters, &clock);
        limits.soft_ms = share.soft;
        limits.hard_ms = share.hard;
    }
    return limits;
}

static UciLimits program_limits(const Arm *arm, const TimeControl *time, const Clocks *clocks)
{
    UciLimits limits = {.nodes = arm->nodes, .move_ms = time->move_ms};
    for (int side = 0; time->clock_ms && side < 2; side++) {
        limits.clock_ms[side] = clocks->left_ms[side];
        limits.increment_ms[side] = time->increment_ms;
    }
    return limits;
}

Answer contestant_choose(Contestant *contestant, const MoveRequest *request, ChosenMove *chosen)
{
    const Arm *arm = contestant->arm;
    const Game *game = request->played.game;
    if (contestant->client) {
        UciLimits limits = program_limits(arm, request->time, request->clocks);
        return uci_client_choose(contestant->client, &request->played, &limits, chosen)
                   ? ANSWER_GIVEN
                   : answer_of_fault(contestant);
    }
    int64_t left_ms = request->clocks->left_ms[position_turn(&game->position)];
    SearchLimits limits = player_limits(arm, request->time, left_ms, game->position.fullmove);
    SearchResult result;
    SparChoice choice;
    spar_think(contestant->player, &arm->sparring, game, &limits, NULL, &result, &choice);
    if (result.best == NO_MOVE) {
        complain(NULL, 0, "memory ran out in a search");
        return ANSWER_NONE;
    }
    contestant->nodes = result.nodes;
    *chosen = (ChosenMove){result.best, result.line.score};
    return ANSWER_GIVEN;
}

uint64_t contestant_nodes(const Contestant *contestant)
{
    return contestant->nodes;
}
