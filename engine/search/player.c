#include "engine/search/player.h"

#include "engine/search/clock.h"
#include "engine/search/workers.h"

#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct Player {
    PlayerSettings settings;
    PlayerSettings applied; /* what the table was filled under */
    TranspositionTable table;
    Workers *workers;
    atomic_bool stop;
    atomic_bool pondering;
    int64_t start_us;             /* of the present search */
    _Atomic int64_t own_start_us; /* since when it goes on the player's own clock */
    int64_t hard_us;              /* of the present search, 0: none */
    uint64_t pace;                /* of the present search, see SearchLimits */
    ClockUse use;                 /* by the moves since player_forget() */
};

/* Of the present search, from a moment of it on; by its pace, from its start. */
static int64_t passed_us(const Player *player, int64_t since_us)
{
    if (player->pace)
        return (int64_t)(workers_searcher(player->workers, 0)->nodes * 1000000 / player->pace);
    return clock_now_us() - since_us;
}

static int64_t spent_us(void *context)
{
    Player *player = context;
    return atomic_load(&player->pondering) ? -1 : passed_us(player, player->start_us);
}

static bool should_stop(void *context)
{
    Player *player = context;
    if (atomic_load_explicit(&player->stop, memory_order_relaxed))
        return true;
    return player->hard_us && !atomic_load(&player->pondering) &&
           passed_us(player, atomic_load(&player->own_start_us)) >= player->hard_us;
}

Player *player_new(size_t table_mib)
{
    Player *player = calloc(1, sizeof *player);
    if (player && table_create(&player->table, table_mib)) {
        player->settings = (PlayerSettings){.lever_weight = 100,
                                            .lever_rule = PS_STRICT,
                                            .lever_weights = ps_default_weights,
                                            .parameters = default_parameters};
        player->applied = player->settings;
        player->workers = workers_new(&player->table);
        if (player->workers)
            return player;
        table_destroy(&player->table);
    }
    free(player);
    return NULL;
}

void player_free(Player *player)
{
    if (!player)
        return;
    workers_free(player->workers);
    table_destroy(&player->table);
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

bool player_set_workers(Player *player, int count)
{
    return workers_set_count(player->workers, count);
}

void player_forget(Player *player)
{
    table_clear(&player->table);
    workers_forget(player->workers);
    player->use = (ClockUse){0};
}

void player_warm_up(Player *player)
{
    table_touch(&player->table);
}

PlayerSettings *player_settings(Player *player)
{
    return &player->settings;
}

static void apply_to(const PlayerSettings *settings, Searcher *s)
{
    Evaluator *e = &s->evaluator;
    if (settings->lever_rule != e->pawns.rule)
        pawn_table_reset(&e->pawns, e->weights, settings->lever_rule);
    e->lever_weight = settings->lever_weight;
    e->lever_weights = settings->lever_weights;
    e->misjudgement = settings->misjudgement;
    s->probe = settings->probe;
    searcher_configure(s, &settings->parameters);
}

/* Scores that were stored under other settings would be taken for scores under these. */
static void apply_settings(Player *player)
{
    const PlayerSettings *now = &player->settings, *before = &player->applied;
    if (now->lever_weight != before->lever_weight || now->lever_rule != before->lever_rule ||
        memcmp(&now->lever_weights, &before->lever_weights, sizeof now->lever_weights) != 0 ||
        !misjudgement_is_same(&now->misjudgement, &before->misjudgement))
        player_forget(player);
    for (int i = 0; i < workers_count(player->workers); i++)
        apply_to(now, workers_searcher(player->workers, i));
    player->applied = player->settings;
}

/* Those of the position at the root, for all workers. Returns their key. */
static uint64_t take_plans_in_hand(Player *player, const Position *root)
{
    uint64_t key = 0;
    for (int i = 0; i < workers_count(player->workers); i++)
        key = evaluate_intend(&workers_searcher(player->workers, i)->evaluator, root);
    return key;
}

/* The limits, the soft one stretched by what the moves before have left of theirs. */
static SearchLimits stretched(const Player *player, const SearchLimits *limits)
{
    SearchLimits own = *limits;
    int64_t soft = own.soft_ms * clock_stretch(&player->settings.parameters, &player->use) / 100;
    own.soft_ms = own.hard_ms && own.hard_ms < soft ? own.hard_ms : soft;
    return own;
}

/* Of a move that was pondered on, a part went on the opponent's clock: it says nothing. */
static void note_use(Player *player, const SearchLimits *limits)
{
    if (!limits->soft_ms || limits->ponder)
        return;
    player->use.moves++;
    player->use.percent += passed_us(player, player->start_us) / (10 * limits->soft_ms);
}

void player_think(Player *player, const Game *game, const SearchLimits *limits,
                  const SearchListener *listener, SearchResult *result)
{
    SearchLimits own = stretched(player, limits);
    Watch watch = {.limits = &own,
                   .start_us = clock_now_us(),
                   .spent_us = spent_us,
                   .should_stop = should_stop,
                   .context = player};
    player->start_us = watch.start_us;
    atomic_store(&player->own_start_us, watch.start_us);
    if (!limits->ponder)
        atomic_store(&player->pondering, false);
    player->hard_us = limits->hard_ms * 1000;
    player->pace = limits->pace;
    apply_settings(player);
    table_new_search(&player->table, take_plans_in_hand(player, &game->position));
    workers_think(player->workers, game, &watch, listener, result);
    note_use(player, &own);
    result->microseconds = clock_now_us() - watch.start_us;
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
    atomic_store(&player->own_start_us, clock_now_us());
    atomic_store(&player->pondering, false);
}

int player_evaluate(Player *player, const Position *position)
{
    apply_settings(player);
    Evaluator *evaluator = &workers_searcher(player->workers, 0)->evaluator;
    evaluate_intend(evaluator, position);
    return evaluate(evaluator, position);
}
