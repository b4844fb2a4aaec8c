#include "bench/base/parallel.h"

#include <pthread.h>
#include <sched.h>
#include <stdlib.h>
#include <string.h>

enum { ITEMS_PER_WORKER = 8 };

typedef enum SlotState { SLOT_WAITING, SLOT_DONE, SLOT_FAILED } SlotState;

/* Item number i lives in slot i mod slot_count. taken >= begun >= what is done, and taken - delivered never
 * exceeds slot_count. */
typedef struct Pool {
    const Parallel *parallel;
    pthread_mutex_t lock;
    pthread_cond_t work, result; /* something to begin; something done */
    size_t slot_count, taken, begun, delivered;
    SlotState *states;
    char *items;
    bool closed; /* nothing more is to be begun */
} Pool;

typedef struct Worker {
    Pool *pool;
    void *own;
    pthread_t thread;
} Worker;

static void *item_at(Pool *pool, size_t index)
{
    return pool->items + index % pool->slot_count * pool->parallel->item_size;
}

static void *work(void *argument)
{
    Worker *worker = argument;
    Pool *pool = worker->pool;
    const Parallel *parallel = pool->parallel;
    pthread_mutex_lock(&pool->lock);
    for (;;) {
        while (!pool->closed && pool->begun == pool->taken)
            pthread_cond_wait(&pool->work, &pool->lock);
        if (pool->closed)
            break;
        size_t index = pool->begun++;
        pthread_mutex_unlock(&pool->lock);
        bool good = parallel->run(parallel->context, worker->own, index, item_at(pool, index));
        pthread_mutex_lock(&pool->lock);
        pool->states[index % pool->slot_count] = good ? SLOT_DONE : SLOT_FAILED;
        pthread_cond_signal(&pool->result);
    }
    pthread_mutex_unlock(&pool->lock);
    return NULL;
}

/* Fetches items as long as there is room. The lock is not held. */
static Taken fill(Pool *pool)
{
    const Parallel *parallel = pool->parallel;
    while (pool->taken - pool->delivered < pool->slot_count) {
        void *item = item_at(pool, pool->taken);
        memset(item, 0, parallel->item_size);
        Taken taken = parallel->take(parallel->context, pool->taken, item);
        if (taken != TAKEN_ITEM)
            return taken;
        pthread_mutex_lock(&pool->lock);
        pool->states[pool->taken % pool->slot_count] = SLOT_WAITING;
        pool->taken++;
        pthread_cond_signal(&pool->work);
        pthread_mutex_unlock(&pool->lock);
    }
    return TAKEN_ITEM;
}

/* Waits for the next item in order. False if it failed. */
static bool await_next(Pool *pool)
{
    SlotState *state = &pool->states[pool->delivered % pool->slot_count];
    pthread_mutex_lock(&pool->lock);
    while (*state == SLOT_WAITING)
        pthread_cond_wait(&pool->result, &pool->lock);
    bool good = *state == SLOT_DONE;
    pthread_mutex_unlock(&pool->lock);
    return good;
}

static bool coordinate(Pool *pool)
{
    const Parallel *parallel = pool->parallel;
    Taken taken = TAKEN_ITEM;
    for (;;) {
        if (taken == TAKEN_ITEM)
            taken = fill(pool);
        if (pool->delivered == pool->taken)
            return taken == TAKEN_END;
        if (!await_next(pool))
            return false;
        size_t index = pool->delivered;
        bool good = parallel->deliver(parallel->context, index, item_at(pool, index));
        pool->delivered++;
        if (!good)
            return false;
    }
}

/* Starts the workers; returns how many there are. */
static int start_workers(Pool *pool, Worker *workers)
{
    const Parallel *parallel = pool->parallel;
    int started = 0;
    for (; started < parallel->workers; started++) {
        Worker *worker = &workers[started];
        worker->pool = pool;
        worker->own = parallel->worker_new ? parallel->worker_new(parallel->context) : NULL;
        if (parallel->worker_new && !worker->own)
            break;
        if (pthread_create(&worker->thread, NULL, work, worker) != 0) {
            if (parallel->worker_free)
                parallel->worker_free(parallel->context, worker->own);
            break;
        }
    }
    return started;
}

static void end_workers(Pool *pool, Worker *workers, int started)
{
    const Parallel *parallel = pool->parallel;
    pthread_mutex_lock(&pool->lock);
    pool->closed = true;
    pthread_cond_broadcast(&pool->work);
    pthread_mutex_unlock(&pool->lock);
    for (int i = 0; i < started; i++) {
        pthread_join(workers[i].thread, NULL);
        if (parallel->worker_free)
            parallel->worker_free(parallel->context, workers[i].own);
    }
    for (; parallel->discard && pool->delivered < pool->taken; pool->delivered++)
        parallel->discard(parallel->context, item_at(pool, pool->delivered));
}

bool parallel_run(const Parallel *parallel)
{
    size_t slots = (size_t)parallel->workers * ITEMS_PER_WORKER;
    Pool pool = {.parallel = parallel,
                 .lock = PTHREAD_MUTEX_INITIALIZER,
                 .work = PTHREAD_COND_INITIALIZER,
                 .result = PTHREAD_COND_INITIALIZER,
                 .slot_count = slots,
                 .states = calloc(slots, sizeof(SlotState)),
                 .items = calloc(slots, parallel->item_size)};
    Worker *workers = calloc((size_t)parallel->workers, sizeof *workers);
    bool good = false;
    if (pool.states && pool.items && workers) {
        int started = start_workers(&pool, workers);
        good = started == parallel->workers && coordinate(&pool);
        end_workers(&pool, workers, started);
    }
    free(workers);
    free(pool.items);
    free(pool.states);
    return good;
}

int parallel_processors(void)
{
    cpu_set_t set;
    int count = sched_getaffinity(0, sizeof set, &set) == 0 ? CPU_COUNT(&set) : 1;
    return count > 0 ? count : 1;
}
