/* Jobs on several threads: results in order, bounded memory, and what happens when something fails. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <stdatomic.h>
#include <unistd.h>

#include "bench/base/parallel.h"

enum { NEVER = -1, ITEMS_PER_WORKER_MAX = 8 };

typedef struct Item {
    int value;
    int *held; /* memory that delivery or discarding frees */
} Item;

typedef struct Trial {
    int count, workers;
    int take_fails, run_fails, deliver_fails; /* at that item, or NEVER */
    bool uneven;                              /* early items take longest */
    atomic_int ran, states, in_memory, most_in_memory;
    int delivered;
    bool in_order, right;
} Trial;

static Taken take(void *context, size_t index, void *item)
{
    Trial *trial = context;
    Item *made = item;
    assert_null(made->held);
    if ((int)index == trial->take_fails)
        return TAKEN_FAILED;
    if ((int)index == trial->count)
        return TAKEN_END;
    made->value = (int)index + 1;
    made->held = malloc(sizeof *made->held);
    int now = atomic_fetch_add(&trial->in_memory, 1) + 1;
    if (now > trial->most_in_memory)
        trial->most_in_memory = now;
    return TAKEN_ITEM;
}

static bool run(void *context, void *own, size_t index, void *item)
{
    Trial *trial = context;
    Item *made = item;
    int *jobs_of_worker = own;
    ++*jobs_of_worker;
    if (trial->uneven && index % 4 == 0)
        usleep(500);
    *made->held = made->value * made->value;
    atomic_fetch_add(&trial->ran, 1);
    return (int)index != trial->run_fails;
}

static void discard(void *context, void *item)
{
    Trial *trial = context;
    free(((Item *)item)->held);
    atomic_fetch_sub(&trial->in_memory, 1);
}

static bool deliver(void *context, size_t index, void *item)
{
    Trial *trial = context;
    Item *made = item;
    trial->in_order = trial->in_order && (int)index == trial->delivered;
    trial->right = trial->right && *made->held == ((int)index + 1) * ((int)index + 1);
    trial->delivered++;
    discard(context, item);
    return (int)index != trial->deliver_fails;
}

static void *worker_new(void *context)
{
    Trial *trial = context;
    atomic_fetch_add(&trial->states, 1);
    return calloc(1, sizeof(int));
}

static void worker_free(void *context, void *own)
{
    Trial *trial = context;
    atomic_fetch_sub(&trial->states, 1);
    free(own);
}

static Trial trial_of(int count, int workers)
{
    return (Trial){.count = count,
                   .workers = workers,
                   .take_fails = NEVER,
                   .run_fails = NEVER,
                   .deliver_fails = NEVER,
                   .in_order = true,
                   .right = true};
}

/* Whatever happens, order is kept, no memory is left behind and none was held beyond the bound. */
static bool run_trial(Trial *trial)
{
    const Parallel parallel = {.workers = trial->workers,
                               .item_size = sizeof(Item),
                               .context = trial,
                               .take = take,
                               .run = run,
                               .deliver = deliver,
                               .discard = discard,
                               .worker_new = worker_new,
                               .worker_free = worker_free};
    bool good = parallel_run(&parallel);
    assert_true(trial->in_order);
    assert_true(trial->right);
    assert_int_equal(trial->in_memory, 0);
    assert_int_equal(trial->states, 0);
    assert_true(trial->most_in_memory <= trial->workers * ITEMS_PER_WORKER_MAX);
    return good;
}

static void everything_is_delivered_in_order(void **state)
{
    (void)state;
    static const int counts[] = {0, 1, 2, 7, 8, 9, 500}, workers[] = {1, 2, 3, 8};
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) {
        for (size_t j = 0; j < sizeof workers / sizeof *workers; j++) {
            Trial trial = trial_of(counts[i], workers[j]);
            trial.uneven = true;
            assert_true(run_trial(&trial));
            assert_int_equal(trial.delivered, counts[i]);
            assert_int_equal(trial.ran, counts[i]);
        }
    }
}

static void a_failed_job_ends_the_run_after_all_before_it(void **state)
{
    (void)state;
    for (int workers = 1; workers <= 4; workers++) {
        for (int at = 0; at < 100; at += 33) {
            Trial trial = trial_of(1000, workers);
            trial.run_fails = at;
            trial.uneven = true;
            assert_false(run_trial(&trial));
            assert_int_equal(trial.delivered, at);
            /* Nothing much is begun any more. */
            assert_true(trial.ran <= at + workers * (ITEMS_PER_WORKER_MAX + 1));
        }
    }
}

static void a_failed_source_ends_the_run_after_all_before_it(void **state)
{
    (void)state;
    for (int workers = 1; workers <= 4; workers++) {
        for (int at = 0; at < 100; at += 33) {
            Trial trial = trial_of(1000, workers);
            trial.take_fails = at;
            assert_false(run_trial(&trial));
            assert_int_equal(trial.delivered, at);
        }
    }
}

static void a_failed_delivery_ends_the_run(void **state)
{
    (void)state;
    for (int workers = 1; workers <= 4; workers++) {
        Trial trial = trial_of(1000, workers);
        trial.deliver_fails = 40;
        assert_false(run_trial(&trial));
        assert_int_equal(trial.delivered, 41);
    }
}

static void *no_worker(void *context)
{
    Trial *trial = context;
    return trial->states > 0 ? NULL : worker_new(context);
}

static void a_worker_that_cannot_be_made_is_a_failure(void **state)
{
    (void)state;
    Trial trial = trial_of(10, 2);
    const Parallel parallel = {.workers = 2,
                               .item_size = sizeof(Item),
                               .context = &trial,
                               .take = take,
                               .run = run,
                               .deliver = deliver,
                               .discard = discard,
                               .worker_new = no_worker,
                               .worker_free = worker_free};
    assert_false(parallel_run(&parallel));
    assert_int_equal(trial.delivered, 0);
    assert_int_equal(trial.states, 0);
}

static void there_is_a_processor(void **state)
{
    (void)state;
    assert_true(parallel_processors() >= 1);
    assert_true(parallel_processors() <= sysconf(_SC_NPROCESSORS_CONF));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_is_delivered_in_order),
        cmocka_unit_test(a_failed_job_ends_the_run_after_all_before_it),
        cmocka_unit_test(a_failed_source_ends_the_run_after_all_before_it),
        cmocka_unit_test(a_failed_delivery_ends_the_run),
        cmocka_unit_test(a_worker_that_cannot_be_made_is_a_failure),
        cmocka_unit_test(there_is_a_processor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
