#include "bench/base/array.h"
#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/parallel.h"
#include "bench/base/progress.h"
#include "bench/base/rule.h"
#include "bench/contrast/contrast_print.h"

#include <stdlib.h>

#define DEFAULT_NODES 100000

enum { DEFAULT_TABLE_MIB = 16 };

typedef enum OutputForm { FOR_PEOPLE, AS_JSON, AS_CSV } OutputForm;

typedef struct ContrastRun {
    ContrastPlan plan;
    size_t table_mib;
    OutputForm form;
    ContrastPrinter printer;
    Progress progress;
    ContrastTask *tasks;
    ContrastResult *results;
    size_t count, capacity;
    size_t instructive[CONTRAST_INSTRUCTIVE_MAX], instructive_count;
} ContrastRun;

static bool add_task(void *context, const EpdRecord *record)
{
    ContrastRun *run = context;
    char error[EPD_ERROR_SIZE];
    if (!array_reserve(run->tasks, run->capacity, run->count, 1)) {
        complain(record->file, record->line, "memory ran out");
        return false;
    }
    if (!contrast_read_task(record, &run->tasks[run->count], error)) {
        complain(record->file, record->line, "%s", error);
        return false;
    }
    run->count++;
    return true;
}

static Taken take(void *context, size_t index, void *item)
{
    ContrastRun *run = context;
    (void)item;
    return index < run->count ? TAKEN_ITEM : TAKEN_END;
}

static bool work(void *context, void *own, size_t index, void *item)
{
    ContrastRun *run = context;
    (void)item;
    return contrast_run(own, &run->plan, &run->tasks[index], &run->results[index]);
}

static bool deliver(void *context, size_t index, void *item)
{
    ContrastRun *run = context;
    const ContrastTask *task = &run->tasks[index];
    const ContrastResult *result = &run->results[index];
    (void)item;
    progress_clear(&run->progress);
    if (run->form == FOR_PEOPLE)
        contrast_print_row(&run->printer, task, result);
    else if (run->form == AS_CSV)
        contrast_print_csv(&run->printer, task, result);
    else if (!contrast_print_json(&run->printer, task, result))
        return false;
    progress_show(&run->progress, index + 1, NULL);
    return true;
}

/* The same three steps for the results that are judged again. */
static Taken take_again(void *context, size_t index, void *item)
{
    (void)item;
    return index < ((const ContrastRun *)context)->instructive_count ? TAKEN_ITEM : TAKEN_END;
}

static bool work_again(void *context, void *own, size_t index, void *item)
{
    ContrastRun *run = context;
    size_t i = run->instructive[index];
    return contrast_judge_again(own, &run->plan, &run->tasks[i], &run->results[i], item);
}

static bool deliver_again(void *context, size_t index, void *item)
{
    ContrastRun *run = context;
    progress_clear(&run->progress);
    if (!contrast_print_json_again(&run->printer, &run->tasks[run->instructive[index]], item))
        return false;
    progress_show(&run->progress, index + 1, NULL);
    return true;
}

static void *worker_new(void *context)
{
    return player_new(((const ContrastRun *)context)->table_mib);
}

static void worker_free(void *context, void *own)
{
    (void)context;
    player_free(own);
}

static bool run_all(ContrastRun *run, int workers, bool quiet)
{
    ContrastClass classes[CLASS_COUNT];
    Parallel parallel = {.workers = workers,
                         .item_size = sizeof(ContrastJudgement),
                         .context = run,
                         .take = take,
                         .run = work,
                         .deliver = deliver,
                         .worker_new = worker_new,
                         .worker_free = worker_free};
    run->results = calloc(run->count + 1, sizeof *run->results);
    if (!run->results)
        return false;
    if (run->form == FOR_PEOPLE)
        contrast_print_head(&run->printer, &run->plan);
    else if (run->form == AS_CSV)
        contrast_print_csv_head(&run->printer);
    bool good = parallel_run(&parallel);
    progress_clear(&run->progress);
    /* What a report is going to show. */
    if (good && run->form == AS_JSON) {
        run->instructive_count = contrast_instructive(run->results, run->count, run->instructive);
        progress_start(&run->progress, "judged again", run->instructive_count, quiet);
        parallel.take = take_again;
        parallel.run = work_again;
        parallel.deliver = deliver_again;
        good = parallel_run(&parallel);
        progress_clear(&run->progress);
    }
    if (!good || !contrast_summarise(run->tasks, run->results, run->count, classes))
        return false;
    if (run->form == FOR_PEOPLE)
        contrast_print_summary(&run->printer, classes);
    for (int c = 0; c < CLASS_COUNT && run->form == AS_JSON; c++)
        if (!contrast_print_json_class(&run->printer, &classes[c]))
            return false;
    return true;
}

static bool limits_make_sense(int64_t nodes, int64_t depth, int64_t movetime)
{
    if ((nodes > 0) + (depth > 0) + (movetime > 0) <= 1)
        return true;
    complain(NULL, 0, "contrast: there are several limits; expected one of --nodes, --depth and --movetime");
    return false;
}

Status contrast_command(int argc, char **argv)
{
    const char *rules[PS_RULE_COUNT + 1];
    int64_t nodes = 0, depth = 0, movetime = 0, weight = 100, workers = parallel_processors(),
            table_mib = DEFAULT_TABLE_MIB;
    bool json = false, csv = false, quiet = false;
    int rule = PS_STRICT;
    ContrastRun run = {.form = FOR_PEOPLE, .printer = {.out = stdout}};
    rule_words(rules);
    const Option options[] = {
        {.name = "nodes",
         .argument = "N",
         .help = "positions a search may visit (" DIGITS_OF(DEFAULT_NODES) ")",
         .integer = &nodes,
         .least = 1,
         .greatest = INT64_C(1000000000000)},
        {.name = "depth",
         .argument = "N",
         .help = "plies, instead of nodes",
         .integer = &depth,
         .least = 1,
         .greatest = MAX_PLY - 1},
        {.name = "movetime",
         .argument = "MS",
         .help = "milliseconds, instead of nodes; results then vary",
         .integer = &movetime,
         .least = 1,
         .greatest = 3600000},
        {.name = "weight",
         .argument = "W",
         .help = "percent of the term when it is on",
         .integer = &weight,
         .least = 0,
         .greatest = 1000},
        {.name = "rule", .argument = "R", .help = "how the rule is read", .choice = &rule, .choices = rules},
        workers_option(&workers, "threads, one for each processor"),
        table_option(&table_mib, "size of each transposition table"),
        {.name = "json", .help = "one JSON object a line: positions, classes", .flag = &json},
        {.name = "csv", .help = "comma-separated values, a line a position", .flag = &csv},
        {.name = "timings", .help = "milliseconds too", .flag = &run.printer.timings},
        quiet_option(&quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "SUITE.epd... [--nodes N | --depth N | --movetime MS] [OPTION...]",
        "Searches each position of the suites with the lever term off and on, judges the two "
        "choices where they\n"
        "differ by searches with 16 times the nodes, and says by verdict and by grade whether the "
        "term helped; with\n"
        "--json the ten greatest differences are judged again, with 64 times the nodes, for report. With "
        "--nodes or\n"
        "--depth the same command prints the same, whatever the number of workers."};
    Status status;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc == 0 || (json && csv)) {
        complain(NULL, 0,
                 argc == 0
                     ? "contrast: there is no suite; expected one EPD file or more, - for the standard input"
                     : "contrast: there are both --json and --csv; expected one of them");
        return STATUS_MISUSED;
    }
    if (!limits_make_sense(nodes, depth, movetime))
        return STATUS_MISUSED;
    if (!depth && !movetime && !nodes)
        nodes = DEFAULT_NODES;
    run.plan = (ContrastPlan){.limits = {.nodes = (uint64_t)nodes, .depth = (int)depth, .hard_ms = movetime},
                              .weight = (int)weight,
                              .rule = rule};
    run.table_mib = (size_t)table_mib;
    run.form = json ? AS_JSON : csv ? AS_CSV : FOR_PEOPLE;

    bool good = true;
    for (int i = 0; i < argc; i++)
        good &= epd_read_file(argv[i], add_task, &run);
    progress_start(&run.progress, "positions", run.count, quiet);
    if (run.count == 0) {
        if (good) /* else it was reported */
            complain(NULL, 0, "contrast: there is no position to search; expected one or more");
        good = false;
    } else if (!run_all(&run, (int)workers, quiet)) {
        complain(NULL, 0, "contrast: memory ran out");
        good = false;
    }
    free(run.tasks);
    free(run.results);
    return good ? STATUS_DONE : STATUS_FAILED;
}
