#include "engine/search/workers.h"

#include "engine/search/memory.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

typedef struct Worker {
    Searcher searcher;
    Histories histories;
    Corrections corrections;
    ScoreMemory scores;
    /* What the others may read while it searches, renewed when it asks whether to stop. */
    _Atomic uint64_t nodes;
    atomic_int deepest;
    Workers *all;
    int number;
    pthread_t thread;
    uint64_t thought; /* the last task it took */
    bool forgetting;  /* what it has learned, before the next task */
} Worker;

struct Workers {
    int count;
    Worker *worker[WORKERS_MAX];
    /* The task of the helpers. */
    pthread_mutex_t lock;
    pthread_cond_t begun, ended;
    uint64_t task; /* number of the present one */
    int wanted;    /* helpers with this number or a greater one leave */
    int helping;
    const Watch *watch;
    atomic_bool ending;
    Race race;
    QuietHistory quiet;
    SharedWork shared;
};

/* ------------------------------------------------------------------------------------------------ helpers */

static uint64_t all_nodes(const Workers *all)
{
    uint64_t nodes = 0;
    for (int i = 0; i < all->count; i++)
        nodes += atomic_load_explicit(&all->worker[i]->nodes, memory_order_relaxed);
    return nodes;
}

/* Lets the others read how far a worker is, and says whether all of them together have done enough. */
static bool publish(Worker *w)
{
    const Workers *all = w->all;
    uint64_t limit = all->watch->limits->nodes;
    atomic_store_explicit(&w->nodes, w->searcher.nodes, memory_order_relaxed);
    if (w->searcher.deepest > atomic_load_explicit(&w->deepest, memory_order_relaxed))
        atomic_store_explicit(&w->deepest, w->searcher.deepest, memory_order_relaxed);
    return all->count > 1 && limit && all_nodes(all) >= limit;
}

static bool helper_should_stop(void *context)
{
    Worker *w = context;
    return publish(w) || atomic_load_explicit(&w->all->ending, memory_order_relaxed);
}

static void forget(Worker *w)
{
    memset((void *)&w->histories, 0, sizeof w->histories);
    memset(&w->corrections, 0, sizeof w->corrections);
    memset(&w->scores, 0, sizeof w->scores);
    w->forgetting = false;
}

static void help(Worker *w, const Watch *watch)
{
    if (w->forgetting)
        forget(w);
    SearchLimits limits = {
        .depth = watch->limits->depth, .lines = watch->limits->lines, .only = watch->limits->only};
    Watch own = {.limits = &limits, .should_stop = helper_should_stop, .context = w, .race = &w->all->race};
    SearchResult result;
    iterate(&w->searcher, &own, NULL, &result);
}

static void *run_helper(void *context)
{
    Worker *w = context;
    Workers *all = w->all;
    pthread_mutex_lock(&all->lock);
    for (;;) {
        while (w->thought == all->task && w->number < all->wanted)
            pthread_cond_wait(&all->begun, &all->lock);
        if (w->number >= all->wanted)
            break;
        w->thought = all->task;
        pthread_mutex_unlock(&all->lock);
        help(w, all->watch);
        pthread_mutex_lock(&all->lock);
        if (--all->helping == 0)
            pthread_cond_signal(&all->ended);
    }
    pthread_mutex_unlock(&all->lock);
    return NULL;
}

static void begin(Workers *all)
{
    pthread_mutex_lock(&all->lock);
    all->helping = all->count - 1;
    all->task++;
    pthread_cond_broadcast(&all->begun);
    pthread_mutex_unlock(&all->lock);
}

static void end(Workers *all)
{
    atomic_store(&all->ending, true);
    pthread_mutex_lock(&all->lock);
    while (all->helping > 0)
        pthread_cond_wait(&all->ended, &all->lock);
    pthread_mutex_unlock(&all->lock);
}

/* --------------------------------------------------------------------------------------- the first worker */

static int64_t first_spent_us(void *context)
{
    const Worker *w = context;
    return w->all->watch->spent_us(w->all->watch->context);
}

static bool first_should_stop(void *context)
{
    Worker *w = context;
    const Watch *watch = w->all->watch;
    return publish(w) || watch->should_stop(watch->context);
}

/* ------------------------------------------------------------------------------------------- their number */

static void worker_free(Worker *w)
{
    if (!w)
        return;
    pawn_table_destroy(&w->searcher.evaluator.pawns);
    free(w->searcher.keys);
    memory_unmap(w, sizeof *w);
}

static Worker *worker_new(Workers *all, TranspositionTable *table, int number)
{
    Worker *w = memory_map(sizeof *w);
    if (!w || !pawn_table_create(&w->searcher.evaluator.pawns, &default_weights, PS_STRICT)) {
        worker_free(w);
        return NULL;
    }
    w->all = all;
    w->number = number;
    w->searcher.table = table;
    w->searcher.quiet = &all->quiet;
    w->searcher.histories = &w->histories;
    w->searcher.corrections = &w->corrections;
    w->searcher.scores = &w->scores;
    w->searcher.shared = number > 0 ? &all->shared : NULL;
    w->searcher.evaluator.weights = &default_weights;
    w->searcher.node_limit = UINT64_MAX;
    searcher_configure(&w->searcher, &default_parameters);
    return w;
}

/* Sends all helpers from number `count` on away. */
static void shrink(Workers *all, int count)
{
    pthread_mutex_lock(&all->lock);
    all->wanted = count;
    pthread_cond_broadcast(&all->begun);
    pthread_mutex_unlock(&all->lock);
    while (all->count > count) {
        Worker *w = all->worker[--all->count];
        pthread_join(w->thread, NULL);
        worker_free(w);
    }
}

static bool add_helper(Workers *all)
{
    Worker *w = worker_new(all, all->worker[0]->searcher.table, all->count);
    if (!w)
        return false;
    w->thought = all->task;
    pthread_mutex_lock(&all->lock);
    all->wanted = all->count + 1;
    pthread_mutex_unlock(&all->lock);
    if (pthread_create(&w->thread, NULL, run_helper, w) != 0) {
        worker_free(w);
        return false;
    }
    all->worker[all->count++] = w;
    return true;
}

Workers *workers_new(TranspositionTable *table)
{
    Workers *all = calloc(1, sizeof *all);
    if (!all || !(all->worker[0] = worker_new(all, table, 0))) {
        free(all);
        return NULL;
    }
    all->count = 1;
    pthread_mutex_init(&all->lock, NULL);
    pthread_cond_init(&all->begun, NULL);
    pthread_cond_init(&all->ended, NULL);
    race_create(&all->race);
    return all;
}

void workers_free(Workers *all)
{
    if (!all)
        return;
    shrink(all, 1);
    worker_free(all->worker[0]);
    race_destroy(&all->race);
    pthread_cond_destroy(&all->ended);
    pthread_cond_destroy(&all->begun);
    pthread_mutex_destroy(&all->lock);
    free(all);
}

bool workers_set_count(Workers *all, int count)
{
    int before = all->count;
    shrink(all, count < before ? count : before);
    while (all->count < count)
        if (!add_helper(all)) {
            shrink(all, before);
            return false;
        }
    return true;
}

int workers_count(const Workers *all)
{
    return all->count;
}

Searcher *workers_searcher(Workers *all, int number)
{
    return &all->worker[number]->searcher;
}

void workers_forget(Workers *all)
{
    memset((void *)&all->quiet, 0, sizeof all->quiet);
    memset((void *)&all->shared, 0, sizeof all->shared);
    forget(all->worker[0]);
    /* Helpers do it themselves: what another core has written would come to theirs line by line. */
    for (int i = 1; i < all->count; i++)
        all->worker[i]->forgetting = true;
}

/* ----------------------------------------------------------------------------------------------- thinking */

/* The line of the first worker, with the counts of all. */
typedef struct Chorus {
    const Workers *all;
    const SearchListener *listener;
} Chorus;

static void tell_line(void *context, const Position *root, const SearchLine *line)
{
    const Chorus *chorus = context;
    SearchLine summed = *line;
    for (int i = 1; i < chorus->all->count; i++) {
        const Worker *w = chorus->all->worker[i];
        int deepest = atomic_load_explicit(&w->deepest, memory_order_relaxed);
        summed.deepest = deepest > summed.deepest ? deepest : summed.deepest;
        summed.nodes += atomic_load_explicit(&w->nodes, memory_order_relaxed);
    }
    chorus->listener->line(chorus->listener->context, root, &summed);
}

static void tell_step(void *context, const Position *root, const SearchStep *step)
{
    const Chorus *chorus = context;
    chorus->listener->step(chorus->listener->context, root, step);
}

static bool take_game(Searcher *s, const Game *game)
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

void workers_think(Workers *all, const Game *game, const Watch *watch, const SearchListener *listener,
                   SearchResult *result)
{
    bool together = all->count > 1 && !watch->limits->alone;
    Searcher *first = &all->worker[0]->searcher;
    Chorus chorus = {all, listener};
    SearchListener summing = {listener && listener->line ? tell_line : NULL,
                              listener && listener->step ? tell_step : NULL, &chorus};
    *result = (SearchResult){.best = NO_MOVE};
    all->watch = watch;
    for (int i = 0; i < all->count; i++) {
        atomic_store(&all->worker[i]->nodes, 0);
        atomic_store(&all->worker[i]->deepest, 0);
        if (!take_game(&all->worker[i]->searcher, game))
            return;
    }
    first->node_limit = watch->limits->nodes ? watch->limits->nodes : UINT64_MAX;
    atomic_store(&all->ending, false);
    first->shared = together ? &all->shared : NULL;
    Watch own = *watch;
    own.should_stop = first_should_stop;
    own.spent_us = first_spent_us;
    own.context = all->worker[0];
    race_start(&all->race);
    if (together) {
        own.race = &all->race;
        begin(all);
    }
    iterate(first, &own, &summing, result);
    if (together)
        end(all);
    for (int i = 1; together && i < all->count; i++) {
        const Searcher *s = &all->worker[i]->searcher;
        result->nodes += s->nodes;
        for (int part = 0; part < SEARCH_PARTS; part++)
            cutoffs_add(&result->cutoffs[part], s->cutoffs[part]);
    }
    result->line.nodes = result->nodes;
}
