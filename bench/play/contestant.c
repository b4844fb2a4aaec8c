#include "bench/play/contestant.h"
#include "bench/base/complaint.h"
#include "engine/search/clock.h"

#include <stdio.h>
#include <stdlib.h>

enum { RESERVE_MS = 40 };

struct Contestant {
    const Arm *arm;
    Player *player; /* one of these two */
    UciClient *client;
};

/* What the arm asks for as options; those that mean nothing to the program must have their defaults. */
static bool set_option(UciClient *client, const Arm *arm, const char *name, const char *value, bool needed)
{
    if (uci_client_has_option(client, name))
        return uci_client_set_option(client, name, value);
    if (needed)
        complain(arm->engine, 0, "the engine has no option %s; expected one, or an arm that needs none",
                 name);
    return !needed;
}

static bool start_program(Contestant *contestant, int table_mib)
{
    const Arm *arm = contestant->arm;
    char weight[16], table[16];
    snprintf(weight, sizeof weight, "%d", arm->weight);
    snprintf(table, sizeof table, "%d", table_mib);
    contestant->client = uci_client_start(arm->engine);
    return contestant->client && set_option(contestant->client, arm, "Hash", table, false) &&
           set_option(contestant->client, arm, "LeverWeight", weight, arm->weight != default_arm.weight) &&
           set_option(contestant->client, arm, "LeverRule", ps_rule_name(arm->rule),
                      arm->rule != default_arm.rule);
}

static bool start_player(Contestant *contestant, int table_mib)
{
    const Arm *arm = contestant->arm;
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
    if (arm->engine ? start_program(contestant, table_mib) : start_player(contestant, table_mib))
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

bool contestant_new_game(Contestant *contestant)
{
    if (contestant->client)
        return uci_client_new_game(contestant->client);
    player_forget(contestant->player);
    return true;
}

static SearchLimits player_limits(const Arm *arm, const TimeControl *time, int64_t left_ms)
{
    SearchLimits limits = {.nodes = (uint64_t)arm->nodes, .hard_ms = time->move_ms};
    if (time->clock_ms) {
        ClockShare share = clock_share(
            &(ClockState){.left = left_ms, .increment = time->increment_ms, .reserve = RESERVE_MS});
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

bool contestant_choose(Contestant *contestant, const MoveRequest *request, ChosenMove *chosen)
{
    const Arm *arm = contestant->arm;
    const Game *game = request->played.game;
    if (contestant->client) {
        UciLimits limits = program_limits(arm, request->time, request->clocks);
        return uci_client_choose(contestant->client, &request->played, &limits, chosen);
    }
    int64_t left_ms = request->clocks->left_ms[position_turn(&game->position)];
    SearchLimits limits = player_limits(arm, request->time, left_ms);
    SearchResult result;
    player_think(contestant->player, game, &limits, NULL, &result);
    if (result.best == NO_MOVE) {
        complain(NULL, 0, "memory ran out in a search");
        return false;
    }
    *chosen = (ChosenMove){result.best, result.line.score};
    return true;
}
