#include "bench/run/experiment_options.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/number.h"
#include "bench/base/output_file.h"
#include "bench/base/parallel.h"
#include "bench/run/adjudication.h"
#include "bench/run/experiment_run.h"
#include "bench/run/run_pgn.h"

#include <stdio.h>
#include <string.h>

#define DRAWN_PAIRS 500

static const char drawn[] = "drawn from the seed";

void experiment_options_table(ExperimentOptions *given, Option table[EXPERIMENT_OPTION_COUNT])
{
    *given = (ExperimentOptions){
        .workers = parallel_processors(), .seed = 1, .table_mib = 8, .adjudication = ADJUDICATION_DEFAULT};
    const Option options[] = {
        {.name = "store",
         .argument = "RUN.db",
         .help = "keep every finished game there, and go on from there",
         .text = &given->store,
         .file = FILE_WRITTEN},
        {.name = "openings",
         .argument = "FILE",
         .help = "EPD; id names, c0 gives the stratum (default: drawn)",
         .text = &given->openings,
         .file = FILE_READ},
        {.name = "strata",
         .argument = "NAMES",
         .help = "only openings of these, with commas between (default: all)",
         .text = &given->strata},
        {.name = "pairs",
         .argument = "N",
         .help = "openings, each played twice (default: all; " DIGITS_OF(DRAWN_PAIRS) " drawn ones)",
         .integer = &given->pairs,
         .least = 1,
         .greatest = OPENINGS_DRAWN_MOST},
        {.name = "seed",
         .argument = "S",
         .help = "of the order of openings, and of drawn ones",
         .integer = &given->seed,
         .least = 0,
         .greatest = INT64_MAX},
        {.name = "movetime",
         .argument = "MS",
         .help = "milliseconds a move",
         .integer = &given->move_ms,
         .least = 1,
         .greatest = 3600000},
        {.name = "clock",
         .argument = "S+INC",
         .help = "seconds for a game and for each move",
         .text = &given->clock},
        {.name = "pace",
         .argument = "N",
         .help = "nodes that count as a second: games are the same each time",
         .integer = &given->pace,
         .least = 1000,
         .greatest = 1000000000},
        workers_option(&given->workers, "games at a time, one for each processor"),
        {.name = "share",
         .argument = "k/n",
         .help = "play the k-th of n parts only; merge joins them",
         .text = &given->share},
        table_option(&given->table_mib, "size of each player's transposition table"),
        {.name = "adjudicate",
         .argument = "RULES",
         .help = "score games early",
         .text = &given->adjudication},
        {.name = "pgn",
         .argument = "FILE",
         .help = "write all games of the run there at the end",
         .text = &given->pgn,
         .file = FILE_WRITTEN},
        questions_effect_option(&given->questions),
        questions_margin_option(&given->questions),
        {.name = "json", .help = "print one JSON object", .flag = &given->json},
        {.name = "csv", .help = "print comma-separated values", .flag = &given->csv},
        {.name = "timings", .help = "print how long it took, too", .flag = &given->timings},
        quiet_option(&given->quiet),
    };
    _Static_assert(sizeof options == EXPERIMENT_OPTION_COUNT * sizeof *table, "as many rows as are promised");
    memcpy(table, options, sizeof options);
}

/* "S+INC" in seconds, with fractions if need be. */
static bool read_clock(const char *text, TimeControl *time)
{
    double seconds, increment;
    char end;
    if (sscanf(text, "%lf+%lf%c", &seconds, &increment, &end) == 2 && seconds >= 0.01 && seconds <= 86400 &&
        increment >= 0 && increment <= 3600) {
        time->clock_ms = (int64_t)(seconds * 1000 + 0.5);
        time->increment_ms = (int64_t)(increment * 1000 + 0.5);
        return true;
    }
    complain(NULL, 0, "--clock is \"%s\"; expected S+INC in seconds, such as 10+0.1", text);
    return false;
}

static bool read_share(const char *text, Share *share)
{
    char number[32];
    const char *slash = strchr(text, '/');
    int64_t k, n;
    if (slash && slash - text < (ptrdiff_t)sizeof number) {
        snprintf(number, sizeof number, "%.*s", (int)(slash - text), text);
        if (read_number(slash + 1, 1, OPENINGS_DRAWN_MOST, &n) && read_number(number, 1, n, &k)) {
            *share = (Share){(int)k, (int)n};
            return true;
        }
    }
    complain(NULL, 0, "--share is \"%s\"; expected k/n with k from 1 to n, such as 2/4", text);
    return false;
}

/* What is the same for all arms, and what makes no sense together. */
static bool read_limits(const ExperimentOptions *given, Experiment *e, Share *share)
{
    bool limited = given->move_ms || given->clock;
    e->seed = (uint64_t)given->seed;
    e->table_mib = (int)given->table_mib;
    e->time.move_ms = given->move_ms;
    e->time.pace = given->pace;
    e->adjudication = default_adjudication;
    for (int i = 0; i < e->arm_count; i++) {
        if (!limited && !e->arms[i].nodes && !e->arms[i].sparring.elo)
            e->arms[i].nodes = EXPERIMENT_NODES;
    }
    if (given->strata && !given->openings) {
        complain(NULL, 0, "%s: --strata is there without --openings; expected a file that has strata",
                 e->kind);
        return false;
    }
    if (given->json && given->csv) {
        complain(NULL, 0, "%s: --json and --csv are both there; expected one of them", e->kind);
        return false;
    }
    if (given->pace && !limited) {
        complain(NULL, 0, "%s: --pace is there without a time; expected --clock or --movetime", e->kind);
        return false;
    }
    for (int i = 0; i < e->arm_count; i++) {
        if (given->pace && e->arms[i].engine) {
            complain(NULL, 0, "%s: --pace is there with %s; expected engines that are built in", e->kind,
                     e->arms[i].engine);
            return false;
        }
        if (!given->clock && !arm_leaves_time_alone(&e->arms[i], e->kind, "--clock"))
            return false;
    }
    if ((given->clock && !read_clock(given->clock, &e->time)) ||
        !adjudication_read(given->adjudication, &e->adjudication) ||
        (given->share && !read_share(given->share, share)))
        return false;
    if (share->of > 1 && e->stop.when != STOP_AT_PAIRS) {
        complain(NULL, 0,
                 "%s: a share cannot tell when the whole is to stop; expected --share without --until",
                 e->kind);
        return false;
    }
    return true;
}

static bool has_pair_for_each(const Experiment *e, Share share)
{
    if ((size_t)share.of <= e->pairs)
        return true;
    complain(NULL, 0, "%s: --share is of %d, and there are %zu pairs; expected no more shares than pairs",
             e->kind, share.of, e->pairs);
    return false;
}

/* Only those of the share: nobody else draws them, and nobody else's are kept. */
static bool draw_openings(const ExperimentOptions *given, Experiment *e, Share share)
{
    size_t first = share_begin(share, e->pairs), count = share_end(share, e->pairs) - first;
    e->openings_source = drawn;
    e->first_pair = first;
    e->stratum_pairs[0] = e->pairs;
    return openings_draw(&e->openings, first, count, e->seed, (int)given->workers);
}

static bool read_openings(const ExperimentOptions *given, Experiment *e)
{
    /* The name, not the place: shares may be played where the file lies elsewhere. */
    const char *slash = strrchr(given->openings, '/');
    OpeningSet *set = &e->openings;
    e->openings_source = slash ? slash + 1 : given->openings;
    if (!openings_read_strata(set, given->openings, given->strata))
        return false;
    if (given->pairs == 0)
        e->pairs = set->count;
    if (set->count == 0 || e->pairs > set->count) {
        complain(given->openings, 0, "has %zu openings; expected %zu or more: each pair needs one of its own",
                 set->count, e->pairs ? e->pairs : 1);
        return false;
    }
    return openings_arrange(set, e->pairs, e->seed);
}

static bool get_openings(const ExperimentOptions *given, Experiment *e, Share share)
{
    e->pairs = (size_t)given->pairs;
    if (!given->openings) {
        if (e->pairs == 0)
            e->pairs = DRAWN_PAIRS;
        return has_pair_for_each(e, share) && draw_openings(given, e, share);
    }
    if (!read_openings(given, e) || !has_pair_for_each(e, share))
        return false;
    e->openings_hash = openings_hash(&e->openings);
    openings_count_strata(&e->openings, e->stratum_pairs);
    e->first_pair = share_begin(share, e->pairs);
    openings_keep(&e->openings, e->first_pair, share_end(share, e->pairs) - e->first_pair);
    return true;
}

static bool print_results(const ExperimentOptions *given, const Store *store, const RunCost *cost)
{
    StoredRun run;
    RunFormat format = given->json ? RUN_AS_JSON : given->csv ? RUN_AS_CSV : RUN_AS_TEXT;
    if (!given->timings)
        cost = NULL;
    bool good = stored_run_read(&run, store_database(store)) &&
                (given->print ? given->print(given->print_context, stdout, &run, format, cost)
                              : run_print(stdout, &run, format, &given->questions, cost));
    stored_run_free(&run);
    return good && (!given->pgn || run_pgn_write(given->pgn, store_database(store)));
}

Status experiment_options_run(const ExperimentOptions *given, Experiment *experiment)
{
    RunSettings settings = {.workers = (int)given->workers, .quiet = given->quiet};
    Share share = {1, 1};
    RunCost cost;
    if (!read_limits(given, experiment, &share))
        return STATUS_MISUSED;
    bool good = (!given->pgn || output_can_be_written(given->pgn)) &&
                get_openings(given, experiment, share) && experiment_identify(experiment);
    interrupt_catch(); /* from here on there are files that must not stay as they are */
    Store *store = good ? store_open(given->store, experiment, share) : NULL;
    good = store && experiment_run(experiment, store, &settings, &cost) && print_results(given, store, &cost);
    store_close(store);
    if (store && interrupt_number())
        interrupt_complain(given->store,
                           given->store ? "it keeps all games that were finished"
                                        : "the games are nowhere kept; expected --store RUN.db to go on from",
                           given->store != NULL);
    openings_free(&experiment->openings);
    return good ? STATUS_DONE : STATUS_FAILED;
}
