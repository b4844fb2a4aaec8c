#include "bench/fit/fit_play.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/play/opening.h"

enum { TABLE_MIB = 4 };

typedef struct Run {
    const FitPlay *play;
    FitSample *sample;
    OpeningSet openings;
    Arm arm;
    Progress progress;
} Run;

static const Position *start_of(const Run *run, size_t index)
{
    return &run->openings.items[index].position;
}

static Taken take_game(void *context, size_t index, void *item)
{
    (void)item;
    return index < ((Run *)context)->play->games ? TAKEN_ITEM : TAKEN_END;
}

static bool run_game(void *context, void *own, size_t index, void *item)
{
    Contestant *const players[2] = {own, own};
    return play_game(players, start_of(context, index), &(TimeControl){0}, &default_adjudication, item);
}

static bool deliver_game(void *context, size_t index, void *item)
{
    Run *run = context;
    progress_show(&run->progress, index + 1, NULL);
    if (fit_sample_add_game(run->sample, (uint32_t)index + 1, start_of(run, index), item,
                            run->play->plies_back))
        return true;
    progress_clear(&run->progress);
    complain(NULL, 0, "memory ran out for the sample");
    return false;
}

static void *worker_new(void *context)
{
    return contestant_new(&((Run *)context)->arm, TABLE_MIB);
}

static void worker_free(void *context, void *own)
{
    (void)context;
    contestant_free(own);
}

bool fit_play(FitSample *sample, const FitPlay *play)
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
                                         .item_size = sizeof(GameRecord),
                                         .context = &run,
                                         .take = take_game,
                                         .run = run_game,
                                         .deliver = deliver_game,
                                         .worker_new = worker_new,
                                         .worker_free = worker_free});
    interrupt_release();
    progress_clear(&run.progress);
    openings_free(&run.openings);
    return good || interrupt_number();
}
