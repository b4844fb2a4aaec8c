#include "bench/census/census_run.h"
#include "bench/base/command_line.h"
#include "bench/base/parallel.h"

#include <stdlib.h>
#include <string.h>

/* What a block has shown, in order: a game, or a fault. */
typedef struct Finding {
    CensusGame game;
    PgnFault *fault; /* null for a good game */
} Finding;

typedef struct Item {
    const char *file;
    bool first_of_file;
    PgnBlock block;
    size_t games;        /* in the block */
    size_t games_before; /* in the whole input before the block; only counted if shares ask for it */
    size_t count, capacity;
    Finding *findings;
} Item;

typedef struct Survey {
    const CensusRun *run;
    PgnSource source;
    int next_path; /* the source is of the one before */
    bool open, opened_now, stopped, said;
    size_t games_before; /* see Item */
    size_t numbered;     /* games of the file of which results have been delivered */
} Survey;

/* What a worker has of its own while it reads a block. */
typedef struct Reading {
    const CensusRun *run;
    Item *item;
    CensusWatch watch;
} Reading;

static bool add_finding(Reading *reading, const Finding *finding)
{
    Item *item = reading->item;
    if (item->count == item->capacity) {
        size_t capacity = item->capacity ? 2 * item->capacity : 256;
        Finding *findings = realloc(item->findings, capacity * sizeof *findings);
        if (findings == NULL) {
            reading->watch.memory_ran_out = true;
            return false;
        }
        item->findings = findings;
        item->capacity = capacity;
    }
    item->findings[item->count++] = *finding;
    return true;
}

static bool is_in_share(const Reading *reading, size_t number)
{
    size_t overall = reading->item->games_before + number;
    return overall % reading->run->shares == reading->run->share % reading->run->shares;
}

static bool begin(void *context, const PgnGame *game)
{
    Reading *reading = context;
    if (!is_in_share(reading, game->number))
        return false;
    census_begin(&reading->watch, game);
    return true;
}

static void move(void *context, const PgnGame *game, Move played)
{
    Reading *reading = context;
    census_move(&reading->watch, game, played);
}

static void end(void *context, const PgnGame *game)
{
    Reading *reading = context;
    census_end(&reading->watch, game);
    if (add_finding(reading, &(Finding){.game = reading->watch.game}))
        reading->watch.game.opening = reading->watch.game.fen = NULL;
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Reading *reading = context;
    if (!is_in_share(reading, game->number))
        return;
    PgnFault *kept = malloc(sizeof *kept);
    if (kept == NULL) {
        reading->watch.memory_ran_out = true;
        return;
    }
    *kept = *fault;
    if (!add_finding(reading, &(Finding){.fault = kept}))
        free(kept);
}

static bool read_item(void *context, void *own, size_t index, void *item)
{
    Survey *survey = context;
    (void)own;
    (void)index;
    Reading reading = {
        .run = survey->run,
        .item = item,
        .watch = {.wants_opening = survey->run->wants_opening, .wants_fen = survey->run->wants_fen}};
    const PgnVisitor visitor = {
        .context = &reading, .begin = begin, .move = move, .end = end, .broken = broken};
    reading.item->games = pgn_read_block(&reading.item->block, 1, &visitor) - 1;
    pgn_block_free(&reading.item->block);
    census_game_free(&reading.watch.game);
    return !reading.watch.memory_ran_out;
}

static bool open_next(Survey *survey)
{
    survey->open = survey->opened_now =
        pgn_source_open(&survey->source, survey->run->paths[survey->next_path++]);
    return survey->open;
}

static Taken take(void *context, size_t index, void *place)
{
    Survey *survey = context;
    Item *item = place;
    (void)index;
    for (;;) {
        if (!survey->open) {
            if (survey->next_path == survey->run->path_count)
                return TAKEN_END;
            if (!open_next(survey)) {
                survey->said = true;
                return TAKEN_FAILED;
            }
        }
        PgnFetched fetched = pgn_source_next(&survey->source, &item->block);
        if (fetched == PGN_FETCHED)
            break;
        pgn_source_close(&survey->source);
        survey->open = false;
        survey->said = fetched == PGN_FAILED;
        if (fetched == PGN_FAILED)
            return TAKEN_FAILED;
    }
    item->file = survey->source.name;
    item->first_of_file = survey->opened_now;
    survey->opened_now = false;
    item->games_before = survey->games_before;
    if (survey->run->shares > 1)
        survey->games_before += pgn_count_games(&item->block);
    return TAKEN_ITEM;
}

static void discard(void *context, void *place)
{
    Item *item = place;
    (void)context;
    for (size_t i = 0; i < item->count; i++) {
        census_game_free(&item->findings[i].game);
        free(item->findings[i].fault);
    }
    free(item->findings);
    pgn_block_free(&item->block);
}

static bool deliver(void *context, size_t index, void *place)
{
    Survey *survey = context;
    const CensusRun *run = survey->run;
    Item *item = place;
    (void)index;
    if (item->first_of_file)
        survey->numbered = 0;
    for (size_t i = 0; i < item->count && !survey->stopped; i++) {
        Finding *finding = &item->findings[i];
        if (finding->fault) {
            finding->fault->game += survey->numbered;
            run->broken(run->context, item->file, finding->fault);
        } else {
            finding->game.number += survey->numbered;
            survey->stopped = !run->game(run->context, item->file, &finding->game);
        }
    }
    survey->numbered += item->games;
    discard(survey, item);
    return !survey->stopped;
}

bool census_run(const CensusRun *run)
{
    Survey survey = {.run = run};
    bool good = parallel_run(&(Parallel){.workers = run->workers,
                                         .item_size = sizeof(Item),
                                         .context = &survey,
                                         .take = take,
                                         .run = read_item,
                                         .deliver = deliver,
                                         .discard = discard});
    if (survey.open)
        pgn_source_close(&survey.source);
    if (!good && !survey.said && !survey.stopped)
        complain(NULL, 0, "memory or threads ran out");
    return good;
}
