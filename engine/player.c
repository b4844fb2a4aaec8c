#include "engine/player.h"

#include "engine/iterate.h"

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

struct Player {
    PlayerSettings settings;
    PlayerSettings applied; /* what the evaluator's memory was filled under */
    TranspositionTable table;
    Searcher *searcher;
    atomic_bool stop;
    atomic_bool pondering;
    _Atomic int64_t clock_start_us;
    int64_t hard_us; /* of the present search, 0: none */
};

static int64_t now_us(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static int64_t elapsed_us(void *context)
{
    Player *player = context;
    return atomic_load(&player->pondering) ? -1 : now_us() - atomic_load(&player->clock_start_us);
}

static bool should_stop(void *context)
{
    Player *player = context;
    if (atomic_load_explicit(&player->stop, memory_order_relaxed))
        return true;
    return player->hard_us && elapsed_us(player) >= player->hard_us;
}

Player *player_new(size_t table_mib)
{
    Player *player = calloc(1, sizeof *player);
    Searcher *searcher = calloc(1, sizeof *searcher);
    if (player && searcher && table_create(&player->table, table_mib)) {
        if (pawn_table_create(&searcher->evaluator.pawns, &default_weights, PS_STRICT)) {
            player->searcher = searcher;
            player->settings = (PlayerSettings){.lever_weight = 100,
                                                .lever_rule = PS_STRICT,
                                                .lever_weights = ps_default_weights,
                                                .parameters = default_parameters};
            player->applied = player->settings;
            searcher->table = &player->table;
            searcher->should_stop = should_stop;
            searcher->context = player;
            searcher->evaluator.weights = &default_weights;
            searcher_configure(searcher, &default_parameters);
            return player;
        }
        table_destroy(&player->table);
    }
    free(searcher);
    free(player);
    return NULL;
}

void player_free(Player *player)
{
    if (!player)
        return;
    table_destroy(&player->table);
    pawn_table_destroy(&player->searcher->evaluator.pawns);
    free(player->searcher->keys);
    free(player->searcher);
    free(player);
}

bool player_resize(Player *player, size_t table_mib)
{
    TranspositionTable table;
    if (!table_create(&table, table_mib))
        return false;
    table_destroy(&player->table);
    player->table = table;
    return true;
}

void player_forget(Player *player)
{
    table_clear(&player->table);
    searcher_forget(player->searcher);
}

PlayerSettings *player_settings(Player *player)
{
    return &player->settings;
}

/* Scores that were stored under other settings would be taken for scores under these. */
static void apply_settings(Player *player)
{
    Searcher *s = player->searcher;
    Evaluator *e = &s->evaluator;
    bool same_term = player->settings.lever_weight == player->applied.lever_weight &&
                     player->settings.lever_rule == player->applied.lever_rule &&
                     memcmp(&player->settings.lever_weights, &player->applied.lever_weights,
                            sizeof player->settings.lever_weights) == 0;
    if (!same_term)
        player_forget(player);
    if (player->settings.lever_rule != player->applied.lever_rule)
        pawn_table_reset(&e->pawns, e->weights, player->settings.lever_rule);
    e->lever_weight = player->settings.lever_weight;
    e->lever_weights = player->settings.lever_weights;
    searcher_configure(s, &player->settings.parameters);
    player->applied = player->settings;
}

static bool take_history(Searcher *s, const Game *game)
{
    uint64_t *keys = realloc(s->keys, (game->count + MAX_PLY + 4) * sizeof *keys);
    if (!keys)
        return false;
    memcpy(keys, game->keys, game->count * sizeof *keys);
    s->keys = keys;
    s->root_key = game->count - 1;
    s->frames[0].position = game->position;
    return true;
}

void player_think(Player *player, const Game *game, const SearchLimits *limits, SearchReport report,
                  void *context, SearchResult *result)
{
    Searcher *s = player->searcher;
    int64_t start = now_us();
    atomic_store(&player->clock_start_us, start);
    if (!limits->ponder)
        atomic_store(&player->pondering, false);
    player->hard_us = limits->hard_ms * 1000;
    apply_settings(player);
    table_new_search(&player->table);
    s->node_limit = limits->nodes ? limits->nodes : UINT64_MAX;
    if (take_history(s, game))
        iterate(s, &(Watch){limits, elapsed_us, player}, report, context, result);
    else
        *result = (SearchResult){.best = NO_MOVE};
    result->microseconds = now_us() - start;
    atomic_store(&player->stop, false);
}

void player_stop(Player *player)
{
    atomic_store(&player->stop, true);
}

void player_prepare(Player *player, bool ponder)
{
    atomic_store(&player->stop, false);
    atomic_store(&player->pondering, ponder);
}

void player_ponder_hit(Player *player)
{
    atomic_store(&player->clock_start_us, now_us());
    atomic_store(&player->pondering, false);
}

int player_evaluate(Player *player, const Position *position)
{
    apply_settings(player);
    return evaluate(&player->searcher->evaluator, position);
}
