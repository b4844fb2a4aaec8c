#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/nearer/nearer_deep.h"
#include "bench/nearer/nearer_positions.h"
#include "bench/nearer/nearer_print.h"
#include "bench/play/contestant.h"
#include "bench/play/fingerprint.h"
#include "bench/play/two_arms.h"
#include "engine/rules/fen.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define DEEP_NODES 250000

typedef struct NearerOptions {
    TwoArms arms;
    const char *nodes, *keep;
    int64_t deep, workers, table_mib;
    bool json, csv, quiet;
} NearerOptions;

typedef struct NearerRun {
    Arm arms[NEARER_SEARCHES];
    int table_mib;
    NearerPositions positions;
    NearerChoices *choices; /* by position */
    NearerDeep deep;
    Progress progress;
    bool told; /* what was wrong */
} NearerRun;

/* How the searches of a position ended. */
typedef struct Ended {
    Answer answer;
    const char *program;
    char fault[UCI_FAULT_SIZE];
} Ended;

typedef struct Searchers {
    Contestant *by[NEARER_SEARCHES];
} Searchers;

static void worker_free(void *context, void *own)
{
    Searchers *searchers = own;
    (void)context;
    for (int i = 0; i < NEARER_SEARCHES; i++)
        contestant_free(searchers->by[i]);
    free(searchers);
}

static void *worker_new(void *context)
{
    NearerRun *run = context;
    Searchers *searchers = calloc(1, sizeof *searchers);
    for (int i = 0; searchers && i < NEARER_SEARCHES; i++) {
        searchers->by[i] = contestant_new(&run->arms[i], run->table_mib);
        if (!searchers->by[i]) {
            run->told = true;
            worker_free(run, searchers);
            return NULL;
        }
    }
    return searchers;
}

static Taken take(void *context, size_t index, void *item)
{
    const NearerRun *run = context;
    (void)item;
    return index < run->positions.count ? TAKEN_ITEM : TAKEN_END;
}

/* From nothing: no search knows what was searched before it. */
static Answer search(Contestant *contestant, const Position *position, ChosenMove *chosen)
{
    Game game;
    if (!game_start(&game, position)) {
        complain(NULL, 0, "memory ran out");
        return ANSWER_NONE;
    }
    const MoveRequest request = {{position, 0, NULL, &game}, &(TimeControl){0}, &(Clocks){{0, 0}}};
    Answer answer = contestant_new_game(contestant);
    if (answer == ANSWER_GIVEN)
        answer = contestant_choose(contestant, &request, chosen);
    game_free(&game);
    return answer;
}

/* What went wrong is for deliver() to say, so that it is said once. */
static bool work(void *context, void *own, size_t index, void *item)
{
    NearerRun *run = context;
    Searchers *searchers = own;
    Ended *ended = item;
    ended->answer = ANSWER_GIVEN;
    for (int i = 0; i < NEARER_SEARCHES && ended->answer == ANSWER_GIVEN; i++) {
        const Position *position = &run->positions.items[index];
        ChosenMove *chosen = &run->choices[index].by[i];
        const ChosenMove *kept = i == NEARER_DEEP ? nearer_deep_find(&run->deep, position) : NULL;
        if (kept)
            *chosen = *kept;
        else
            ended->answer = search(searchers->by[i], position, chosen);
        if (ended->answer == ANSWER_FAULT) {
            ended->program = run->arms[i].engine;
            snprintf(ended->fault, sizeof ended->fault, "%s", contestant_fault_text(searchers->by[i]));
        }
    }
    return true;
}

static bool deliver(void *context, size_t index, void *item)
{
    NearerRun *run = context;
    const Ended *ended = item;
    if (ended->answer == ANSWER_GIVEN) {
        progress_show(&run->progress, index + 1, NULL);
        return true;
    }
    progress_clear(&run->progress);
    if (ended->answer == ANSWER_FAULT)
        complain(ended->program, 0, "%s; expected a move in each position", ended->fault);
    run->told = true;
    return false;
}

/* Before anything is searched: one file has the searches of one engine. */
static bool deep_searches_fit(const NearerRun *run)
{
    const NearerDeep *deep = &run->deep;
    for (size_t i = 0; deep->foreign && i < run->positions.count; i++) {
        char fen[FEN_SIZE];
        if (nearer_deep_find(deep, &run->positions.items[i]))
            continue;
        fen_write(&run->positions.items[i], fen);
        complain(deep->path, 0, "is by %s and has no search of %s; expected another file, or all positions",
                 deep->engine, fen);
        return false;
    }
    return true;
}

/* Writes what has been searched beside what was kept. */
static bool keep_deep_searches(NearerRun *run)
{
    NearerDeep *deep = &run->deep;
    const size_t read = deep->count;
    if (!deep->path)
        return true;
    for (size_t i = 0; i < run->positions.count; i++) {
        const NearerDeep kept = {.items = deep->items, .count = read};
        const Position *position = &run->positions.items[i];
        if (!nearer_deep_find(&kept, position) &&
            !nearer_deep_add(deep, position, &run->choices[i].by[NEARER_DEEP]))
            return false;
    }
    return deep->count == read || nearer_deep_write(deep);
}

/* Tells of failures. */
static bool search_all(NearerRun *run, int workers, NearerSummary *summary)
{
    const NearerPositions *p = &run->positions;
    run->choices = calloc(p->count, sizeof *run->choices);
    bool good = run->choices && parallel_run(&(Parallel){.workers = workers,
                                                         .item_size = sizeof(Ended),
                                                         .context = run,
                                                         .take = take,
                                                         .run = work,
                                                         .deliver = deliver,
                                                         .worker_new = worker_new,
                                                         .worker_free = worker_free});
    progress_clear(&run->progress);
    good = good && nearer_summarise(run->choices, p->units, p->count, p->unit_count, summary);
    if (!good && !run->told)
        complain(NULL, 0, "memory or threads ran out; expected room for %d workers", workers);
    return good;
}

static bool read_options(NearerOptions *o, int *argc, char ***argv, Status *status)
{
    Option options[TWO_ARMS_OPTION_COUNT + 9];
    two_arms_options(&o->arms, options);
    const Option own[] = {
        {.name = "nodes", .argument = "A:B", .help = "positions a search may visit", .text = &o->nodes},
        {.name = "deep",
         .argument = "N",
         .help = "and the deep search, which has this engine's defaults",
         .integer = &o->deep,
         .least = 2,
         .greatest = INT64_C(1000000000000)},
        {.name = "keep",
         .argument = "FILE",
         .help = "keep the deep searches there, and take from it what it has",
         .text = &o->keep,
         .file = FILE_WRITTEN},
        workers_option(&o->workers, "positions at a time, one for each processor"),
        table_option(&o->table_mib, "size of each transposition table"),
        json_option(&o->json),
        csv_option(&o->csv),
        quiet_option(&o->quiet),
        {.file = FILE_READ},
    };
    _Static_assert(sizeof own == sizeof options - TWO_ARMS_OPTION_COUNT * sizeof *options,
                   "room for all options");
    memcpy(options + TWO_ARMS_OPTION_COUNT, own, sizeof own);
    static const Usage usage = {
        "POSITIONS.epd... [OPTION]...",
        "Searches each position by arm A, by arm B and once deep, all from nothing, and says in how many of "
        "them each\n"
        "arm chose the deep search's move and how far its score lay from the deep one's: of scores limited "
        "to 1000\n"
        "centipawns either way, each distance to 300. Arms are given as for duel. The deep search is that of "
        "the engine\n"
        "built in with its defaults, whatever the arms are; one that --keep has may be of an earlier engine. "
        "Positions of\n"
        "one game (c8, as in a sample of fit) are one unit of the 95 % intervals; any other position is a "
        "unit of its own.\n" NEARER_CAUTION};
    return command_line_read(&usage, options, argc, argv, status);
}

static bool read_arms(const NearerOptions *o, Arm arms[NEARER_SEARCHES])
{
    if (!two_arms_read(&o->arms, "nearer", arms) || !arms_read_nodes(arms, o->nodes))
        return false;
    arms[NEARER_DEEP] = default_arm;
    arms[NEARER_DEEP].nodes = o->deep;
    for (int i = NEARER_A; i <= NEARER_B; i++) {
        if (!arm_leaves_time_alone(&arms[i], "nearer", "one of the search"))
            return false;
        if (arms[i].nodes >= o->deep) {
            complain(NULL, 0,
                     "nearer: --deep is %" PRId64 " and arm %c has %" PRId64
                     " nodes; expected more for the deep search",
                     o->deep, 'A' + i, arms[i].nodes);
            return false;
        }
    }
    return true;
}

/* Before anything is searched. False if a program cannot be what its arm asks for (reported). */
static bool programs_fit(const Arm arms[NEARER_SEARCHES])
{
    char text[FINGERPRINT_SIZE];
    for (int i = 0; i < NEARER_SEARCHES; i++)
        if (arms[i].engine && !fingerprint_program(&arms[i], text))
            return false;
    return true;
}

Status nearer_command(int argc, char **argv)
{
    NearerOptions o = {
        .nodes = "10000", .deep = DEEP_NODES, .workers = parallel_processors(), .table_mib = 8};
    NearerRun run = {.told = false};
    NearerSummary summary;
    Status status;
    if (!read_options(&o, &argc, &argv, &status))
        return status;
    if (argc == 0 || (o.json && o.csv)) {
        complain(NULL, 0,
                 argc == 0 ? "nearer: there are no positions; expected one EPD file or more, - for the "
                             "standard input"
                           : "nearer: there are both --json and --csv; expected one of them");
        return STATUS_MISUSED;
    }
    if (!read_arms(&o, run.arms))
        return STATUS_MISUSED;
    run.table_mib = (int)o.table_mib;

    bool all_read = true, good = programs_fit(run.arms) && nearer_deep_read(&run.deep, o.keep, o.deep);
    for (int i = 0; good && i < argc; i++)
        all_read &= nearer_positions_read(&run.positions, argv[i]);
    if (good && run.positions.count == 0) {
        if (all_read) /* else it was reported */
            complain(NULL, 0, "nearer: there is no position to search; expected one or more");
        good = false;
    }
    progress_start(&run.progress, "positions", run.positions.count, o.quiet);
    good = good && deep_searches_fit(&run) && search_all(&run, (int)o.workers, &summary) &&
           keep_deep_searches(&run);
    if (good && o.csv)
        nearer_print_csv(stdout, &summary);
    else if (good && !o.json)
        nearer_print(stdout, run.arms, run.deep.engine, &summary, run.positions.by_game);
    else if (good && !nearer_print_json(stdout, run.arms, run.deep.engine, &summary, run.positions.by_game)) {
        complain(NULL, 0, "memory ran out");
        good = false;
    }
    free(run.choices);
    nearer_deep_free(&run.deep);
    nearer_positions_free(&run.positions);
    return good && all_read ? STATUS_DONE : STATUS_FAILED;
}
