#include "bench/chance/chance_play.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/chance/chance_sampling.h"
#include "bench/play/opening.h"
#include "bench/play/play.h"

#include <stdlib.h>

typedef struct Run {
    const ChancePlay *play;
    ChanceSample *sample;
    OpeningSet openings;
    Arm arm;
    Progress progress;
} Run;

typedef struct SampledGame {
    GameRecord record;
    ChanceSample moves;
} SampledGame;

typedef struct Worker {
    Contestant *contestant;
    MoveSampler sampler;
} Worker;

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out for the sample");
    return false;
}

static Taken take_game(void *context, size_t index, void *item)
{
    (void)item;
    return index < ((Run *)context)->play->games ? TAKEN_ITEM : TAKEN_END;
}

static bool run_game(void *context, void *own, size_t index, void *item)
{
    const Run *run = context;
    Worker *worker = own;
    SampledGame *game = item;
    Contestant *const players[2] = {worker->contestant, worker->contestant};
    worker->sampler.sample = &game->moves;
    worker->sampler.game = (uint32_t)index + 1;
    return play_game(players, &run->openings.items[index].position, &(TimeControl){0}, &default_adjudication,
                     &game->record) &&
           (!worker->sampler.failed || no_memory());
}

static void discard_game(void *context, void *item)
{
    (void)context;
    chance_sample_free(&((SampledGame *)item)->moves);
}

static bool deliver_game(void *context, size_t index, void *item)
{
    Run *run = context;
    const ChanceSample *moves = &((SampledGame *)item)->moves;
    bool good = chance_sample_add(run->sample, moves->moves, moves->count);
    discard_game(context, item);
    progress_show(&run->progress, index + 1, NULL);
    if (good)
        return true;
    progress_clear(&run->progress);
    return no_memory();
}

static void worker_free(void *context, void *own)
{
    Worker *worker = own;
    (void)context;
    contestant_free(worker->contestant);
    free(worker);
}

static void *worker_new(void *context)
{
    const Run *run = context;
    Worker *worker = calloc(1, sizeof *worker);
    if (worker && (worker->contestant = contestant_new(&run->arm, run->play->table_mib))) {
        move_sampler_attach(&worker->sampler, contestant_player(worker->contestant));
        return worker;
    }
    free(worker);
    return NULL;
}

bool chance_play(ChanceSample *sample, const ChancePlay *play)
{
    Run run = {.play = play, .sample = sample, .arm = default_arm};
    run.arm.nodes = play->nodes;
    if (!openings_get(&run.openings, play->openings, play->games, play->seed, play->workers)) {
        openings_free(&run.openings);
        return false;
    }
    progress_start(&run.progress, "games", play->games, play->quiet);
    interrupt_catch();
    bool good = parallel_run(&(Parallel){.workers = play->workers,
                                         .item_size = sizeof(SampledGame),
                                         .context = &run,
                                         .take = take_game,
                                         .run = run_game,
                                         .deliver = deliver_game,
                                         .discard = discard_game,
                                         .worker_new = worker_new,
                                         .worker_free = worker_free});
    interrupt_release();
    progress_clear(&run.progress);
    openings_free(&run.openings);
    return good || interrupt_number();
}
