#include "bench/forecast/forecast_run.h"
#include "bench/base/complaint.h"
#include "bench/pgn/epd.h"

typedef struct Reading {
    ForecastRun *run;
    ForecastData *data;
    ForecastPart part;
} Reading;

static void begin(void *watch, const PgnGame *game)
{
    forecast_begin(watch, game);
}

static void move(void *watch, const PgnGame *game, Move played)
{
    forecast_move(watch, game, played);
}

static bool end(void *context, const PgnGame *game, void *record)
{
    ForecastWatch *watch = context;
    forecast_end(watch, game);
    *(ForecastGame *)record = watch->game;
    return true;
}

static void write_playable(FILE *out, const char *file, const ForecastGame *game)
{
    char name[EPD_NAME_SIZE];
    int halfmoves, fullmove, length = (int)epd_fields_length(game->playable);
    if (sscanf(game->playable + length, "%d %d", &halfmoves, &fullmove) != 2)
        return;
    epd_quotable_name(file, name);
    fprintf(out, "%.*s fmvn %d; hmvc %d; id \"%s, game %zu\";\n", length, game->playable, fullmove, halfmoves,
            name, game->number);
}

static bool use(void *context, const char *file, size_t number, void *record)
{
    Reading *reading = context;
    ForecastGame *game = record;
    game->number = number;
    reading->part.plies += (uint64_t)game->plies;
    if (reading->run->playable != NULL)
        write_playable(reading->run->playable, file, game);
    if (forecast_data_add(reading->data, file, game))
        return true;
    complain(NULL, 0, "memory ran out");
    return false;
}

bool forecast_run(ForecastRun *run, ForecastData *data)
{
    ForecastWatch watch = forecast_watch();
    watch.wants_playable = run->playable != NULL;
    Reading reading = {run, data, {.share = run->collection.share, .shares = run->collection.shares}};
    bool good = pgn_survey(&(PgnSurvey){.collection = &run->collection,
                                        .watch = &watch,
                                        .watch_size = sizeof watch,
                                        .record_size = sizeof(ForecastGame),
                                        .begin = begin,
                                        .move = move,
                                        .end = end,
                                        .context = &reading,
                                        .game = use});
    reading.part.games = run->collection.games;
    reading.part.skipped = run->collection.skipped;
    if (!good || forecast_data_add_part(data, &reading.part))
        return good;
    complain(NULL, 0, "memory ran out");
    return false;
}
