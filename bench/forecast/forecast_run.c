#include "bench/forecast/forecast_run.h"
#include "bench/base/complaint.h"
#include "bench/pgn/epd.h"
#include "bench/pgn/pgn_survey.h"

enum { PROGRESS_GAMES = 1024 };

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
    reading->part.games++;
    reading->part.plies += (uint64_t)game->plies;
    if (reading->part.games % PROGRESS_GAMES == 0)
        progress_show(reading->run->progress, reading->part.games, NULL);
    if (reading->run->playable != NULL)
        write_playable(reading->run->playable, file, game);
    if (forecast_data_add(reading->data, file, game))
        return true;
    complain(NULL, 0, "memory ran out");
    return false;
}

static void use_broken(void *context, const char *file, const PgnFault *fault)
{
    Reading *reading = context;
    reading->part.skipped++;
    reading->run->cut |= fault->cut;
    progress_clear(reading->run->progress);
    pgn_complain(file, fault, PGN_LEFT_OUT);
}

bool forecast_run(ForecastRun *run, ForecastData *data)
{
    ForecastWatch watch = forecast_watch();
    watch.wants_playable = run->playable != NULL;
    Reading reading = {run, data, {.share = run->share, .shares = run->shares}};
    bool good = pgn_survey(&(PgnSurvey){.paths = run->paths,
                                        .path_count = run->path_count,
                                        .workers = run->workers,
                                        .share = run->share,
                                        .shares = run->shares,
                                        .watch = &watch,
                                        .watch_size = sizeof watch,
                                        .record_size = sizeof(ForecastGame),
                                        .begin = begin,
                                        .move = move,
                                        .end = end,
                                        .context = &reading,
                                        .game = use,
                                        .broken = use_broken});
    if (!good || forecast_data_add_part(data, &reading.part))
        return good;
    complain(NULL, 0, "memory ran out");
    return false;
}
