#include "bench/run/experiment_run.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/monotonic.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"

#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct Job {
    GameKey key;
    int white_points; /* -1: to be played */
    bool played;      /* now */
    GameRecord record;
} Job;

/* The results so far of one match, and the first game of a pair whose second is still to come. */
typedef struct Tally {
    PairCounts counts;
    int first_points;
} Tally;

typedef struct Run {
    const Experiment *experiment;
    Store *store;
    const RunSettings *settings;
    Progress progress;
    size_t played;
    Tally tallies[MATCHES_MAX];
    atomic_int faults[ARMS_MAX]; /* games running that the arm's program has lost by a fault of its own */
    atomic_bool stopped;         /* by the rule of the experiment */
    atomic_bool failed;          /* a game (reported) */
} Run;

/* Players are made when a game needs them: a sweep has many arms. */
typedef struct Worker {
    Contestant *contestants[ARMS_MAX];
} Worker;

/* Games in order: pair by pair, in each every match, in each both halves. So a run that is cut short has
 * treated all matches alike. False behind the last. */
static bool key_of_job(const Run *run, size_t index, GameKey *key)
{
    size_t matches = (size_t)run->experiment->match_count, opening = index / 2 / matches;
    *key =
        (GameKey){(int)(index / 2 % matches), (int)(run->experiment->first_pair + opening), (int)(index % 2)};
    return opening < run->experiment->openings.count;
}

static size_t count_missing(const Run *run)
{
    size_t missing = 0;
    GameKey key;
    for (size_t index = 0; key_of_job(run, index, &key); index++)
        missing += store_points(run->store, key) < 0;
    return missing;
}

static Taken take(void *context, size_t index, void *item)
{
    Run *run = context;
    Job *job = item;
    if (atomic_load(&run->stopped) || !key_of_job(run, index, &job->key))
        return TAKEN_END;
    job->white_points = store_points(run->store, job->key);
    return TAKEN_ITEM;
}

static Contestant *contestant_of(const Run *run, Worker *worker, int arm)
{
    if (!worker->contestants[arm])
        worker->contestants[arm] = contestant_new(&run->experiment->arms[arm], run->experiment->table_mib);
    return worker->contestants[arm];
}

/* A program that plays no game any more is not worth all the games to come. */
enum { FAULTS_IN_A_ROW = 5 };

/* Counts the faults of the programs of a game. False when there is no hope left (reported). */
static bool count_faults(Run *run, const Job *job)
{
    const Experiment *e = run->experiment;
    Match match = e->matches[job->key.match];
    const GameRecord *record = &job->record;
    for (int side = 0; side < 2; side++) {
        int arm = (side == WHITE) == (job->key.half == 0) ? match.a : match.b;
        if (record->at_fault != side)
            atomic_store(&run->faults[arm], 0);
        else if (atomic_fetch_add(&run->faults[arm], 1) + 1 == FAULTS_IN_A_ROW) {
            complain(
                e->arms[arm].engine, 0,
                "%s, at move %d of game %d of pair %d, opening \"%s\": game %d in a row lost by a fault of "
                "the engine; expected it to play",
                record->fault, record->plies / 2 + 1, job->key.half + 1, job->key.pair + 1,
                e->openings.items[(size_t)job->key.pair - e->first_pair].name, FAULTS_IN_A_ROW);
            return false;
        }
    }
    return true;
}

/* A finished game goes to the store at once, not only when those before it are finished. */
static bool play_job(Run *run, Worker *worker, Job *job)
{
    const Experiment *e = run->experiment;
    Match match = e->matches[job->key.match];
    const Position *start = &e->openings.items[(size_t)job->key.pair - e->first_pair].position;
    Contestant *a = contestant_of(run, worker, match.a), *b = a ? contestant_of(run, worker, match.b) : NULL;
    if (!b)
        return false;
    Contestant *players[2] = {[WHITE] = job->key.half == 0 ? a : b, [BLACK] = job->key.half == 0 ? b : a};
    if (!play_game(players, start, &e->time, &e->adjudication, &job->record) ||
        !store_add(run->store, job->key, &job->record) || !count_faults(run, job))
        return false;
    job->white_points = job->record.white_points;
    job->played = true;
    return true;
}

static bool play(void *context, void *own, size_t index, void *item)
{
    Run *run = context;
    Job *job = item;
    (void)index;
    if (job->white_points >= 0 || atomic_load(&run->stopped))
        return true;
    if (!atomic_load(&run->failed) && !interrupt_number() && play_job(run, own, job))
        return true;
    if (!interrupt_number())
        atomic_store(&run->failed, true);
    return false;
}

static void show(Run *run, int match)
{
    char note[160], elo[ELO_TEXT_SIZE], interval[ELO_TEXT_SIZE];
    MatchEstimate estimate = match_estimate(&run->tallies[match].counts, 0.95);
    int length = 0;
    if (run->experiment->match_count > 1)
        length = snprintf(note, sizeof note, "match %d of %d: ", match + 1, run->experiment->match_count);
    snprintf(note + length, sizeof note - (size_t)length, "Elo %s (%s)", elo_text(estimate.elo, elo),
             elo_interval_text(estimate.elo_interval, interval));
    progress_show(&run->progress, run->played, estimate.pairs > 1 ? note : NULL);
}

static bool deliver(void *context, size_t index, void *item)
{
    Run *run = context;
    Job *job = item;
    (void)index;
    /* Behind the decision: its pair is dropped from the store, if it was played at all. */
    if (atomic_load(&run->stopped))
        return true;
    run->played += job->played;
    Tally *tally = &run->tallies[job->key.match];
    int points = game_points_a(job->key.half, job->white_points);
    if (job->key.half == 0) {
        tally->first_points = points;
        return true;
    }
    tally->counts.n[tally->first_points + points]++;
    show(run, job->key.match);
    if (!stop_reached(&run->experiment->stop, &tally->counts))
        return true;
    atomic_store(&run->stopped, true);
    return true;
}

static void *worker_new(void *context)
{
    (void)context;
    return calloc(1, sizeof(Worker));
}

static void worker_free(void *context, void *own)
{
    Worker *worker = own;
    (void)context;
    for (int i = 0; i < ARMS_MAX; i++)
        contestant_free(worker->contestants[i]);
    free(worker);
}

bool experiment_run(const Experiment *experiment, Store *store, const RunSettings *settings, RunCost *cost)
{
    Run run = {.experiment = experiment, .store = store, .settings = settings};
    double start = monotonic_seconds();
    progress_start(&run.progress, "games", count_missing(&run), settings->quiet);
    bool good = parallel_run(&(Parallel){.workers = settings->workers,
                                         .item_size = sizeof(Job),
                                         .context = &run,
                                         .take = take,
                                         .run = play,
                                         .deliver = deliver,
                                         .worker_new = worker_new,
                                         .worker_free = worker_free});
    progress_clear(&run.progress);
    *cost = (RunCost){run.played, monotonic_seconds() - start};
    if (!good && !atomic_load(&run.failed) && interrupt_number())
        return true;
    if (!good && !atomic_load(&run.failed))
        complain(NULL, 0, "memory or threads ran out; expected room for %d workers", settings->workers);
    if (good && atomic_load(&run.stopped))
        good = store_drop_from(store, (int)pair_total(&run.tallies[0].counts));
    return good;
}
