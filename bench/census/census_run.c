#include "bench/census/census_run.h"

static void begin(void *watch, const PgnGame *game)
{
    census_begin(watch, game);
}

static void move(void *watch, const PgnGame *game, Move played)
{
    census_move(watch, game, played);
}

static bool end(void *context, const PgnGame *game, void *record)
{
    CensusWatch *watch = context;
    census_end(watch, game);
    *(CensusGame *)record = watch->game;
    watch->game.opening = watch->game.fen = NULL;
    watch->game.moments = NULL;
    return !watch->memory_ran_out;
}

static void watch_free(void *watch)
{
    census_game_free(&((CensusWatch *)watch)->game);
}

static void record_free(void *record)
{
    census_game_free(record);
}

static bool use(void *context, const char *file, size_t number, void *record)
{
    const CensusRun *run = context;
    CensusGame *game = record;
    game->number = number;
    return run->game(run->context, file, game);
}

bool census_run(CensusRun *run)
{
    const CensusWatch watch = {.wants_opening = run->wants_opening,
                               .wants_fen = run->wants_fen,
                               .wants_moments = run->wants_moments};
    return pgn_survey(&(PgnSurvey){.collection = &run->collection,
                                   .watch = &watch,
                                   .watch_size = sizeof watch,
                                   .record_size = sizeof(CensusGame),
                                   .begin = begin,
                                   .move = move,
                                   .end = end,
                                   .watch_free = watch_free,
                                   .record_free = record_free,
                                   .context = run,
                                   .game = use});
}
