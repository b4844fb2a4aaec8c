#include "bench/forecast/forecast_searches.h"
#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/contrast/judge.h"
#include "bench/pgn/epd.h"
#include "engine/evaluation/structure_view.h"

#include <stdlib.h>
#include <string.h>

enum { TABLE_MIB = 4 };

typedef struct Task {
    Position position;
    const char *file;
    long line;
    bool asked, priced, played_out;
} Task;

typedef struct Search {
    const ForecastSearches *searches;
    ForecastEvidence *evidence;
    size_t count, capacity;
    Task *tasks;
    ForecastPart part;
    bool memory_ran_out;
} Search;

/* What is found at a position. */
typedef struct Found {
    Task task;
    ForecastGame line, continuation;
    bool priced;
    ForecastPrice price;
} Found;

typedef struct Own {
    Player *player;
    ForecastReferee *referee;
} Own;

/* -------------------------------------------------------------------------------------------- positions */

static bool add_task(void *context, const EpdRecord *record)
{
    Search *search = context;
    if (!array_reserve(search->tasks, search->capacity, search->count, 1)) {
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    search->tasks[search->count++] =
        (Task){.position = record->position, .file = record->file, .line = record->line};
    return true;
}

typedef struct Place {
    uint64_t key;
    size_t index;
} Place;

static int compare_places(const void *a, const void *b)
{
    const Place *x = a, *y = b;
    if (x->key != y->key)
        return x->key < y->key ? -1 : 1;
    return (x->index > y->index) - (x->index < y->index);
}

/* Leaves a position to be asked only where it comes first. */
static bool drop_doubles(const Search *search)
{
    Place *places = malloc((search->count + 1) * sizeof *places);
    if (places == NULL)
        return false;
    for (size_t i = 0; i < search->count; i++)
        places[i] = (Place){search->tasks[i].position.key, i};
    qsort(places, search->count, sizeof *places, compare_places);
    for (size_t i = 1; i < search->count; i++)
        if (places[i].key == places[i - 1].key)
            search->tasks[places[i].index].asked = false;
    free(places);
    return true;
}

static void sort_out(Task *task)
{
    ForecastWatch watch = {0};
    PgnGame game;
    ps_analysis analysis;
    structure_analyse(&task->position, &analysis);
    task->asked = movegen_any(&task->position) && forecast_begin_at(&watch, &game, &task->position);
    task->priced =
        forecast_named_lever(&task->position, &analysis) != NO_MOVE && movegen_count(&task->position) > 1;
}

/* Sorts the whole input out, and keeps the tasks of the share. */
static bool plan_tasks(Search *search)
{
    const ForecastSettings *settings = &search->searches->settings;
    size_t kept = 0, share = search->searches->share, shares = search->searches->shares;
    int64_t played_out = 0;
    for (size_t i = 0; i < search->count; i++)
        sort_out(&search->tasks[i]);
    if (!drop_doubles(search))
        return false;
    for (size_t i = 0; i < search->count; i++) {
        Task task = search->tasks[i];
        task.priced = task.priced && task.asked && settings->price_nodes > 0;
        task.played_out = task.priced && played_out < settings->playouts;
        played_out += task.played_out;
        if ((i + 1) % shares != share % shares)
            continue;
        search->part.games += task.asked;
        search->part.skipped += !task.asked;
        if (task.asked)
            search->tasks[kept++] = task;
    }
    search->count = kept;
    return true;
}

/* --------------------------------------------------------------------------------------------- searching */

static void tell(ForecastWatch *watch, PgnGame *game, Move move)
{
    position_play(&game->position, move);
    game->plies++;
    forecast_move(watch, game, move);
}

static void finish(ForecastWatch *watch, const PgnGame *game, const Task *task, ForecastGame *found)
{
    forecast_end(watch, game);
    *found = watch->game;
    found->number = found->line = (size_t)task->line;
}

static void follow_line(Player *player, const ForecastSettings *settings, const Game *root, const Task *task,
                        ForecastGame *found)
{
    ForecastWatch watch = {0};
    PgnGame game;
    SearchResult result;
    forecast_begin_at(&watch, &game, &task->position);
    think_cold(player, root, &(SearchLimits){.nodes = (uint64_t)settings->nodes}, NULL, &result);
    for (int i = 0; i < result.line.length; i++)
        tell(&watch, &game, result.line.moves[i]);
    finish(&watch, &game, task, found);
}

/* Ends as soon as every side has answered. */
static bool play_on(Player *player, const ForecastSettings *settings, Game *game, const Task *task,
                    ForecastGame *found)
{
    ForecastWatch watch = {0};
    PgnGame told;
    bool good = true;
    forecast_begin_at(&watch, &told, &task->position);
    player_forget(player);
    for (int ply = 0; ply < settings->plies && good && game_end(game, true) == GAME_GOES_ON &&
                      !forecast_is_answered(&watch.game);
         ply++) {
        SearchResult result;
        player_prepare(player, false);
        player_think(player, game, &(SearchLimits){.nodes = (uint64_t)settings->nodes}, NULL, &result);
        good = game_play(game, result.best);
        tell(&watch, &told, result.best);
    }
    finish(&watch, &told, task, found);
    return good;
}

static bool work(void *context, void *state, size_t index, void *item)
{
    const Search *search = context;
    const ForecastSettings *settings = &search->searches->settings;
    Found *found = item;
    Own *own = state;
    Game game;
    (void)index;
    if (!game_start(&game, &found->task.position))
        return false;
    follow_line(own->player, settings, &game, &found->task, &found->line);
    bool good = play_on(own->player, settings, &game, &found->task, &found->continuation);
    game_free(&game);
    found->priced = good && found->task.priced &&
                    forecast_price(own->player, &found->task.position, settings->price_nodes, &found->price);
    if (found->priced && found->task.played_out)
        good = forecast_play_out(own->referee, &found->task.position, settings, &found->price);
    return good;
}

static void worker_free(void *context, void *state)
{
    Own *own = state;
    (void)context;
    player_free(own->player);
    forecast_referee_free(own->referee);
    free(own);
}

static void *worker_new(void *context)
{
    Own *own = calloc(1, sizeof *own);
    if (own == NULL)
        return NULL;
    own->player = player_new(TABLE_MIB);
    own->referee = forecast_referee_new(TABLE_MIB);
    if (own->player == NULL || own->referee == NULL) {
        worker_free(context, own);
        return NULL;
    }
    player_settings(own->player)->lever_weight = 0;
    return own;
}

static Taken take(void *context, size_t index, void *item)
{
    const Search *search = context;
    if (index == search->count)
        return TAKEN_END;
    ((Found *)item)->task = search->tasks[index];
    return TAKEN_ITEM;
}

static bool deliver(void *context, size_t index, void *item)
{
    Search *search = context;
    ForecastEvidence *evidence = search->evidence;
    Found *found = item;
    const char *file = found->task.file;
    search->part.plies += (uint64_t)found->continuation.plies;
    found->price.number = (size_t)found->task.line;
    progress_show(search->searches->progress, index + 1, NULL);
    return forecast_data_add(&evidence->of[FORECAST_LINES], file, &found->line) &&
           forecast_data_add(&evidence->of[FORECAST_CONTINUATIONS], file, &found->continuation) &&
           (!found->priced || forecast_evidence_add_price(evidence, file, &found->price));
}

static bool search_all(Search *search)
{
    const ForecastSearches *searches = search->searches;
    searches->progress->total = search->count;
    return parallel_run(&(Parallel){.workers = searches->workers,
                                    .item_size = sizeof(Found),
                                    .context = search,
                                    .take = take,
                                    .run = work,
                                    .deliver = deliver,
                                    .worker_new = worker_new,
                                    .worker_free = worker_free}) &&
           forecast_data_add_part(&search->evidence->of[FORECAST_LINES], &search->part) &&
           forecast_data_add_part(&search->evidence->of[FORECAST_CONTINUATIONS], &search->part);
}

bool forecast_search(const ForecastSearches *searches, ForecastEvidence *evidence)
{
    Search search = {searches, evidence, .part = {.share = searches->share, .shares = searches->shares}};
    bool good = true;
    for (int i = 0; i < searches->path_count; i++)
        good = epd_read_file(searches->paths[i], add_task, &search) && good;
    if (good && !forecast_evidence_agree(evidence, &searches->settings)) {
        complain(searches->paths[0], 0,
                 "would be searched otherwise than the positions of a store; expected the same settings");
        good = false;
    } else if (good && !(plan_tasks(&search) && search_all(&search))) {
        complain(NULL, 0, "memory or threads ran out");
        good = false;
    }
    free(search.tasks);
    return good;
}
