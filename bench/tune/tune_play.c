#include "bench/tune/tune_play.h"

#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/play/play.h"

#include <stdatomic.h>

typedef struct Round {
    const TunePlay *play;
    const Tuning *tuning;
    size_t number;
    Trial *trials;
    atomic_bool failed; /* reported */
} Round;

/* What a worker needs for a trial; the results are in Round.trials. */
typedef struct Games {
    Arm arms[2];
    GameRecord record;
} Games;

static Taken take(void *context, size_t index, void *item)
{
    const Round *round = context;
    (void)item;
    return index < round->tuning->trials ? TAKEN_ITEM : TAKEN_END;
}

static bool play_pair(Contestant *up, Contestant *down, const Position *start, GameRecord *record,
                      int *points)
{
    *points = 0;
    for (int half = 0; half < 2; half++) {
        Contestant *players[2] = {[WHITE] = half ? down : up, [BLACK] = half ? up : down};
        if (!play_game(players, start, &(TimeControl){0}, &default_adjudication, record))
            return false;
        int white = record->white_points;
        *points += half ? 2 - 2 * white : 2 * white - 2;
    }
    return true;
}

static bool run(void *context, void *own, size_t index, void *item)
{
    Round *round = context;
    const TunePlay *play = round->play;
    Trial *trial = &round->trials[index];
    Games *games = item;
    Contestant *players[2] = {NULL, NULL};
    size_t opening = (round->number * round->tuning->trials + index) % play->openings->count;
    (void)own;
    tuning_draw(round->tuning, round->number, index, trial);
    for (int i = 0; i < 2; i++) {
        games->arms[i] = default_arm;
        games->arms[i].nodes = play->nodes;
        games->arms[i].parameters = i ? trial->down : trial->up;
        players[i] = contestant_new(&games->arms[i], play->table_mib);
    }
    bool good = players[0] && players[1] &&
                play_pair(players[0], players[1], &play->openings->items[opening].position, &games->record,
                          &trial->points);
    contestant_free(players[0]);
    contestant_free(players[1]);
    if (!good)
        atomic_store(&round->failed, true);
    return good;
}

static bool deliver(void *context, size_t index, void *item)
{
    (void)context, (void)index, (void)item;
    return true;
}

bool tune_play_round(const TunePlay *play, const Tuning *tuning, size_t round, Trial *trials)
{
    Round this = {.play = play, .tuning = tuning, .number = round, .trials = trials};
    if (parallel_run(&(Parallel){.workers = play->workers,
                                 .item_size = sizeof(Games),
                                 .context = &this,
                                 .take = take,
                                 .run = run,
                                 .deliver = deliver}))
        return true;
    if (!atomic_load(&this.failed))
        complain(NULL, 0, "memory or threads ran out; expected room for %d workers", play->workers);
    return false;
}
