#include "bench/pgn/pgn_survey.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* What a block has shown, in order: a game, or a fault. The record of a game stands at the same place of
 * Item.records. */
typedef struct Finding {
    size_t number;
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
    unsigned char *records;
} Item;

typedef struct Reader {
    const PgnSurvey *survey;
    PgnSource source;
    int next_path; /* the source is of the one before */
    bool open, opened_now, stopped, said;
    size_t games_before; /* see Item */
    size_t numbered;     /* games of the file of which results have been delivered */
} Reader;

/* What a worker has of its own while it reads a block. */
typedef struct Reading {
    const PgnSurvey *survey;
    Item *item;
    void *watch;
    bool memory_ran_out;
} Reading;

static void *record_at(const PgnSurvey *survey, const Item *item, size_t i)
{
    return item->records + i * survey->record_size;
}

/* Both have room for as many. */
static bool reserve(const PgnSurvey *survey, Item *item)
{
    size_t capacity = item->capacity;
    return array_reserve(item->findings, capacity, item->count, 1) &&
           array_grow(&item->records, &item->capacity, item->count, 1, survey->record_size);
}

/* The record of the new finding; null if memory ran out, which is noted. */
static void *add_finding(Reading *reading, const Finding *finding)
{
    Item *item = reading->item;
    if (!reserve(reading->survey, item)) {
        reading->memory_ran_out = true;
        return NULL;
    }
    item->findings[item->count] = *finding;
    return memset(record_at(reading->survey, item, item->count++), 0, reading->survey->record_size);
}

static bool is_in_share(const Reading *reading, size_t number)
{
    size_t overall = reading->item->games_before + number;
    return overall % reading->survey->collection->shares ==
           reading->survey->collection->share % reading->survey->collection->shares;
}

static bool begin(void *context, const PgnGame *game)
{
    Reading *reading = context;
    if (!is_in_share(reading, game->number))
        return false;
    reading->survey->begin(reading->watch, game);
    return true;
}

static void move(void *context, const PgnGame *game, Move played)
{
    Reading *reading = context;
    reading->survey->move(reading->watch, game, played);
}

static void end(void *context, const PgnGame *game)
{
    Reading *reading = context;
    void *record = add_finding(reading, &(Finding){.number = game->number});
    if (record != NULL)
        reading->memory_ran_out |= !reading->survey->end(reading->watch, game, record);
}

static void broken(void *context, const PgnGame *game, const PgnFault *fault)
{
    Reading *reading = context;
    if (!is_in_share(reading, game->number))
        return;
    PgnFault *kept = malloc(sizeof *kept);
    if (kept == NULL) {
        reading->memory_ran_out = true;
        return;
    }
    *kept = *fault;
    if (add_finding(reading, &(Finding){.fault = kept}) == NULL)
        free(kept);
}

static bool read_item(void *context, void *own, size_t index, void *item)
{
    const PgnSurvey *survey = ((Reader *)context)->survey;
    (void)own;
    (void)index;
    Reading reading = {.survey = survey, .item = item, .watch = malloc(survey->watch_size)};
    if (reading.watch == NULL)
        return false;
    memcpy(reading.watch, survey->watch, survey->watch_size);
    const PgnVisitor visitor = {
        .context = &reading, .begin = begin, .move = move, .end = end, .broken = broken};
    reading.item->games = pgn_read_block(&reading.item->block, 1, &visitor) - 1;
    pgn_block_free(&reading.item->block);
    if (survey->watch_free != NULL)
        survey->watch_free(reading.watch);
    free(reading.watch);
    return !reading.memory_ran_out;
}

static bool open_next(Reader *reader)
{
    reader->open = reader->opened_now =
        pgn_source_open(&reader->source, reader->survey->collection->paths[reader->next_path++]);
    return reader->open;
}

static Taken take(void *context, size_t index, void *place)
{
    Reader *reader = context;
    Item *item = place;
    (void)index;
    for (;;) {
        if (!reader->open) {
            if (reader->next_path == reader->survey->collection->path_count)
                return TAKEN_END;
            if (!open_next(reader)) {
                reader->said = true;
                return TAKEN_FAILED;
            }
        }
        PgnFetched fetched = pgn_source_next(&reader->source, &item->block);
        if (fetched == PGN_FETCHED)
            break;
        pgn_source_close(&reader->source);
        reader->open = false;
        reader->said = fetched == PGN_FAILED;
        if (fetched == PGN_FAILED)
            return TAKEN_FAILED;
    }
    item->file = reader->source.name;
    item->first_of_file = reader->opened_now;
    reader->opened_now = false;
    item->games_before = reader->games_before;
    if (reader->survey->collection->shares > 1)
        reader->games_before += pgn_count_games(&item->block);
    return TAKEN_ITEM;
}

static void discard(void *context, void *place)
{
    const PgnSurvey *survey = ((Reader *)context)->survey;
    Item *item = place;
    for (size_t i = 0; i < item->count; i++) {
        if (item->findings[i].fault == NULL && survey->record_free != NULL)
            survey->record_free(record_at(survey, item, i));
        free(item->findings[i].fault);
    }
    free(item->findings);
    free(item->records);
    pgn_block_free(&item->block);
}

enum { PROGRESS_GAMES = 1024 };

static void use_fault(PgnCollection *collection, const char *file, const PgnFault *fault)
{
    collection->skipped++;
    collection->cut |= fault->cut;
    if (collection->progress != NULL)
        progress_clear(collection->progress);
    pgn_complain(file, fault, PGN_LEFT_OUT);
}

static bool use_game(const PgnSurvey *survey, const char *file, size_t number, void *record)
{
    PgnCollection *collection = survey->collection;
    if (++collection->games % PROGRESS_GAMES == 0 && collection->progress != NULL)
        progress_show(collection->progress, collection->games, NULL);
    return survey->game(survey->context, file, number, record);
}

static bool deliver(void *context, size_t index, void *place)
{
    Reader *reader = context;
    const PgnSurvey *survey = reader->survey;
    Item *item = place;
    (void)index;
    if (item->first_of_file)
        reader->numbered = 0;
    for (size_t i = 0; i < item->count && !reader->stopped; i++) {
        Finding *finding = &item->findings[i];
        if (finding->fault) {
            finding->fault->game += reader->numbered;
            use_fault(survey->collection, item->file, finding->fault);
        } else {
            reader->stopped =
                !use_game(survey, item->file, reader->numbered + finding->number, record_at(survey, item, i));
        }
    }
    reader->numbered += item->games;
    discard(reader, item);
    return !reader->stopped;
}

bool pgn_survey(const PgnSurvey *survey)
{
    Reader reader = {.survey = survey};
    bool good = parallel_run(&(Parallel){.workers = survey->collection->workers,
                                         .item_size = sizeof(Item),
                                         .context = &reader,
                                         .take = take,
                                         .run = read_item,
                                         .deliver = deliver,
                                         .discard = discard});
    if (reader.open)
        pgn_source_close(&reader.source);
    if (survey->collection->progress != NULL)
        progress_clear(survey->collection->progress);
    if (!good && !reader.said && !reader.stopped)
        complain(NULL, 0, "memory or threads ran out");
    return good;
}

bool pgn_read_share(const char *text, PgnCollection *collection)
{
    char *end_of_k, *end_of_all;
    errno = 0;
    long k = strtol(text, &end_of_k, 10);
    long n = *end_of_k == '/' ? strtol(end_of_k + 1, &end_of_all, 10) : 0;
    if (errno || n < 1 || n > PGN_SHARES_MAX || *end_of_all || k < 1 || k > n) {
        complain(NULL, 0, "--share is \"%s\"; expected K/N with K from 1 to N and N at most %d", text,
                 PGN_SHARES_MAX);
        return false;
    }
    collection->share = (size_t)k;
    collection->shares = (size_t)n;
    return true;
}
