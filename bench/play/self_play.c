#include "bench/play/self_play.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/play/opening.h"

typedef struct Run {
    const SelfPlay *play;
    const GameSink *sink;
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
    const Run *run = context;
    Contestant *const players[2] = {own, own};
    if (run->sink->begin)
        run->sink->begin(item, index, own);
    return play_game(players, start_of(run, index), &(TimeControl){0}, &default_adjudication, item);
}

static bool deliver_game(void *context, size_t index, void *item)
{
    Run *run = context;
    progress_show(&run->progress, index + 1, NULL);
    if (run->sink->take(run->sink->context, index, start_of(run, index), item))
        return true;
    progress_clear(&run->progress);
    complain(NULL, 0, "memory ran out for the sample");
    return false;
}

static void discard_game(void *context, void *item)
{
    const GameSink *sink = ((Run *)context)->sink;
    if (sink->discard)
        sink->discard(item);
}

static void *worker_new(void *context)
{
    const Run *run = context;
    return contestant_new(&run->arm, run->play->table_mib);
}

static void worker_free(void *context, void *own)
{
    (void)context;
    contestant_free(own);
}

bool self_play(const SelfPlay *play, const GameSink *sink)
{
    Run run = {.play = play, .sink = sink, .arm = default_arm};
    run.arm.nodes = play->nodes;
    if (!openings_get(&run.openings, play->openings, play->games, play->seed, play->workers)) {
        openings_free(&run.openings);
        return false;
    }
    progress_start(&run.progress, "games", play->games, play->quiet);
    interrupt_catch();
    bool good = parallel_run(&(Parallel){.workers = play->workers,
                                         .item_size = sink->size,
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

bool self_play_was_whole(const char *sample)
{
    if (!interrupt_number())
        return true;
    interrupt_complain(sample,
                       sample ? "it keeps the games before the first that was not finished"
                              : "the games are nowhere kept; expected --sample FILE",
                       false);
    return false;
}
