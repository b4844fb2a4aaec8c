#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/play/arm.h"
#include "bench/tune/tune_play.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWN_OPENINGS = 500, REPORTS = 10 };

typedef struct TuneOptions {
    TextList tuned, set;
    int64_t rounds, trials, nodes, seed, workers, table_mib;
    double rate;
    const char *openings;
    bool quiet;
} TuneOptions;

static bool read_options(TuneOptions *o, int argc, char **argv, Status *status)
{
    const Option options[] = {
        {.name = "parameter",
         .argument = "NAME=STEP",
         .help = "tune this one, trying values so far off; as often as needed",
         .list = &o->tuned,
         .required = true},
        {.name = "set",
         .argument = "NAME=VALUE",
         .help = "where a parameter starts, or what it stays; as often as needed",
         .list = &o->set},
        {.name = "rounds",
         .argument = "N",
         .help = "how often the values are moved",
         .integer = &o->rounds,
         .least = 1,
         .greatest = 1000000},
        {.name = "pairs",
         .argument = "N",
         .help = "pairs of games between two moves",
         .integer = &o->trials,
         .least = 1,
         .greatest = 10000},
        {.name = "rate",
         .argument = "STEPS",
         .help = "a half point moves each value by that in the end",
         .real = &o->rate,
         .real_least = 1e-6,
         .real_greatest = 10},
        {.name = "nodes",
         .argument = "N",
         .help = "positions a move",
         .integer = &o->nodes,
         .least = 1,
         .greatest = 1000000000},
        {.name = "openings",
         .argument = "FILE",
         .help = "EPD positions to start from (default: drawn from the seed)",
         .text = &o->openings,
         .file = FILE_READ},
        {.name = "seed",
         .argument = "S",
         .help = "of the tosses and of the order of openings",
         .integer = &o->seed,
         .least = 0,
         .greatest = INT64_MAX},
        workers_option(&o->workers, "games at a time, one for each processor"),
        table_option(&o->table_mib, "size of each player's transposition table"),
        quiet_option(&o->quiet),
        {0},
    };
    static const Usage usage = {
        "--parameter NAME=STEP [OPTION]...",
        "Tunes parameters of the search (engine/search/parameters.h) together, by simultaneous perturbation: "
        "each "
        "pair of\n"
        "games moves all of them at random, one way for one side and the other way for the other. Prints\n"
        "the values after every tenth of the rounds. A duel of the result with the start says whether it is "
        "better."};
    if (!command_line_read(&usage, options, &argc, &argv, status))
        return false;
    *status = STATUS_MISUSED;
    if (argc == 0)
        return true;
    complain(NULL, 0, "tune: \"%s\" is one argument too many; expected options only", argv[0]);
    return false;
}

static int find_parameter(const char *name, size_t length)
{
    for (int i = 0; i < PARAMETER_COUNT; i++)
        if (strlen(parameter_table[i].name) == length && strncmp(parameter_table[i].name, name, length) == 0)
            return i;
    return -1;
}

static bool add_parameter(Tuning *tuning, const char *text)
{
    const char *sign = strchr(text, '=');
    size_t length = sign ? (size_t)(sign - text) : strlen(text);
    int64_t step;
    int index = find_parameter(text, length);
    if (index < 0) {
        complain(NULL, 0,
                 "--parameter %s: there is no parameter %.*s; expected one of engine/search/parameters.h",
                 text, (int)length, text);
        return false;
    }
    const ParameterInfo *info = &parameter_table[index];
    if (!sign || !read_number(sign + 1, 1, info->greatest - info->least, &step)) {
        complain(NULL, 0, "--parameter %s: there is no step; expected NAME=STEP with a step from 1 to %d",
                 text, info->greatest - info->least);
        return false;
    }
    if (index >= PARAMETER_OF_TIME) {
        complain(NULL, 0, "--parameter %s has no say in games by nodes; expected one of the search",
                 info->name);
        return false;
    }
    for (int i = 0; i < tuning->count; i++)
        if (tuning->tuned[i].index == index) {
            complain(NULL, 0, "--parameter %s is there twice; expected each parameter once", info->name);
            return false;
        }
    tuning->tuned[tuning->count++] = (TunedParameter){.index = index, .step = (double)step};
    return true;
}

static bool read_tuning(Tuning *tuning, const TuneOptions *o)
{
    Arm arms[2] = {default_arm, default_arm};
    for (int i = 0; i < o->set.count; i++) {
        const char *text = o->set.items[i];
        if (strncmp(text, "A.", 2) == 0 || strncmp(text, "B.", 2) == 0) {
            complain(NULL, 0, "--set is \"%s\"; expected NAME=VALUE, for both sides", text);
            return false;
        }
        if (!arms_read_parameter(arms, text) || !arm_leaves_time_alone(&arms[0], "tune", "one of the search"))
            return false;
    }
    *tuning = (Tuning){.fixed = arms[0].parameters,
                       .rounds = (size_t)o->rounds,
                       .trials = (size_t)o->trials,
                       .rate = o->rate,
                       .seed = (uint64_t)o->seed};
    for (int i = 0; i < o->tuned.count; i++)
        if (!add_parameter(tuning, o->tuned.items[i]))
            return false;
    for (int i = 0; i < tuning->count; i++)
        tuning->tuned[i].value = ((const int *)&tuning->fixed)[tuning->tuned[i].index];
    return true;
}

static bool get_openings(OpeningSet *openings, const TuneOptions *o)
{
    if (!o->openings)
        return openings_draw(openings, 0, DRAWN_OPENINGS, (uint64_t)o->seed, (int)o->workers);
    if (!openings_read(openings, o->openings))
        return false;
    if (openings->count == 0) {
        complain(o->openings, 0, "there is no position; expected one to start from");
        return false;
    }
    return openings_arrange(openings, openings->count, (uint64_t)o->seed);
}

/* In the words of --set, so that a tuning can go on from there. */
static void print_values(const Tuning *tuning, size_t rounds)
{
    Parameters now = tuning_parameters(tuning);
    printf("%zu pairs:", rounds * tuning->trials);
    for (int i = 0; i < tuning->count; i++) {
        int index = tuning->tuned[i].index;
        printf(" %s=%d", parameter_table[index].name, ((const int *)&now)[index]);
    }
    putchar('\n');
    fflush(stdout);
}

static bool tune(Tuning *tuning, const TunePlay *play, bool quiet)
{
    Trial *trials = calloc(tuning->trials, sizeof *trials);
    if (!trials) {
        complain(NULL, 0, "memory ran out; expected room for %zu pairs", tuning->trials);
        return false;
    }
    bool good = true;
    Progress progress;
    progress_start(&progress, "pairs", tuning->rounds * tuning->trials, quiet);
    print_values(tuning, 0);
    for (size_t round = 0; good && round < tuning->rounds; round++) {
        good = tune_play_round(play, tuning, round, trials);
        if (!good)
            break;
        tuning_learn(tuning, round, trials);
        size_t done = round + 1;
        progress_show(&progress, done * tuning->trials, NULL);
        if (done * REPORTS / tuning->rounds > round * REPORTS / tuning->rounds) {
            progress_clear(&progress);
            print_values(tuning, done);
        }
    }
    progress_clear(&progress);
    free(trials);
    return good;
}

Status tune_command(int argc, char **argv)
{
    TuneOptions options = {.rounds = 500,
                           .trials = 16,
                           .rate = 0.0035,
                           .nodes = 6000,
                           .seed = 1,
                           .workers = parallel_processors(),
                           .table_mib = 8};
    Tuning tuning;
    OpeningSet openings = {0};
    Status status;
    if (!read_options(&options, argc, argv, &status))
        return status;
    if (!read_tuning(&tuning, &options))
        return STATUS_MISUSED;
    const TunePlay play = {.openings = &openings,
                           .nodes = options.nodes,
                           .table_mib = (int)options.table_mib,
                           .workers = (int)options.workers};
    bool good = get_openings(&openings, &options) && tune(&tuning, &play, options.quiet);
    openings_free(&openings);
    return good ? STATUS_DONE : STATUS_FAILED;
}
