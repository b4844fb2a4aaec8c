#include "bench/base/command_line.h"
#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/file_conflict.h"
#include "bench/base/losses.h"
#include "bench/base/parallel.h"
#include "bench/chance/chance_output.h"
#include "bench/chance/chance_play.h"

#include <stdio.h>

typedef struct ChanceOptions {
    int64_t games, nodes, seed, table_mib, workers;
    const char *openings, *sample, *write;
    char **more; /* samples */
    int more_count;
    bool quiet;
} ChanceOptions;

/* What the table of options cannot say. */
static bool options_fit(const ChanceOptions *o)
{
    const NamedFile files[] = {{"sample", o->sample, true}, {"openings", o->openings, false}};
    if (o->more_count > 0 && (o->games || !o->sample))
        complain(NULL, 0,
                 "chance: \"%s\" is one argument too many; expected more samples behind --sample FILE only",
                 o->more[0]);
    else if (o->games == 0 && !o->sample)
        complain(NULL, 0,
                 "chance: there is no sample; expected --games N to play for one or --sample FILE to read "
                 "one");
    else if (o->games == 0 && o->openings)
        complain(NULL, 0, "chance: --openings is for games; expected --games N with it");
    else
        return !o->sample || !o->openings || files_are_apart("chance", files, 2);
    return false;
}

static bool read_options(ChanceOptions *o, int argc, char **argv, Status *status)
{
    const Option options[] = {
        {.name = "games",
         .argument = "N",
         .help = "play so many games for the sample",
         .integer = &o->games,
         .least = 5,
         .greatest = CHANCE_GAMES_MAX},
        {.name = "nodes",
         .argument = "N",
         .help = "positions a move in them",
         .integer = &o->nodes,
         .least = 100,
         .greatest = 1000000000},
        {.name = "seed",
         .argument = "N",
         .help = "of the random openings",
         .integer = &o->seed,
         .least = 0,
         .greatest = INT64_MAX},
        {.name = "openings",
         .argument = "FILE",
         .help = "EPD positions, one a game (default: random)",
         .text = &o->openings,
         .file = FILE_READ},
        {.name = "sample",
         .argument = "FILE",
         .help = "write the sample there; without games, read it",
         .text = &o->sample,
         .file = FILE_READ}, /* written with games: see options_fit() */
        {.name = "write",
         .argument = "FILE",
         .help = "write engine/search/chance_tables.c there",
         .text = &o->write,
         .file = FILE_WRITTEN},
        table_option(&o->table_mib, "size of each player's transposition table"),
        workers_option(&o->workers, "games at a time, one for each processor"),
        quiet_option(&o->quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "--games N | --sample FILE [FILE]... [OPTION]...",
        "Fits the tables that give the chance that a move raises alpha (engine/search/chance.h) to moves of\n"
        "the engine's own searches, at nodes in which nothing was left out or reduced. Holds out a fifth of "
        "the\n"
        "games and prints the loss on both parts. Writes tables only where it is told to."};
    if (!command_line_read(&usage, options, &argc, &argv, status))
        return false;
    *status = STATUS_MISUSED;
    o->more = argv;
    o->more_count = argc;
    return options_fit(o);
}

static bool read_samples(ChanceSample *sample, const ChanceOptions *o)
{
    bool good = chance_sample_read(sample, o->sample);
    for (int i = 0; good && i < o->more_count; i++)
        good = chance_sample_read(sample, o->more[i]);
    return good;
}

static bool get_sample(ChanceSample *sample, const ChanceOptions *o, const char *command)
{
    if (o->games == 0)
        return read_samples(sample, o);
    snprintf(sample->origin, sizeof sample->origin, "%s", command);
    const SelfPlay play = {.games = (size_t)o->games,
                           .nodes = o->nodes,
                           .seed = (uint64_t)o->seed,
                           .openings = o->openings,
                           .table_mib = (int)o->table_mib,
                           .workers = (int)o->workers,
                           .quiet = o->quiet};
    if (!chance_play(sample, &play) || (o->sample && !chance_sample_write(sample, o->sample)))
        return false;
    return self_play_was_whole(o->sample);
}

static void print_part(const char *name, const ChancePart *part)
{
    printf("%-9s %zu moves of %zu games, %.2f %% of them raised alpha\n", name, part->moves, part->games,
           100 * (double)part->raised / (double)part->moves);
}

static void print_sum(const ChanceReport *r, ChanceSum sum, const char *name)
{
    printf("\nBy the static score %s the move:\n", name);
    losses_print((LossChange){r->fitted.before[sum], r->fitted.after[sum]},
                 (LossChange){r->held_out.before[sum], r->held_out.after[sum]}, &r->change[sum],
                 "one game held out", "moves held out");
}

static void print_report(const ChanceReport *r)
{
    print_part("fitted", &r->fitted);
    print_part("held out", &r->held_out);
    printf("cells     %d, of them %d of no move, %d changed\n", CHANCE_CELLS, r->unseen, r->changed);
    puts("\nMean log-loss in nats a move:\n"
         "             before     after     change");
    print_sum(r, SUM_BEHIND, "behind");
    print_sum(r, SUM_BEFORE, "before");
}

Status chance_command(int argc, char **argv)
{
    ChanceOptions options = {.nodes = 10000, .seed = 1, .table_mib = 4, .workers = parallel_processors()};
    ChanceSample sample = {0};
    ChanceTables tables = chance_tables;
    ChanceReport report;
    char command[ORIGIN_SIZE];
    Status status;
    origin_of_arguments(argc, argv, command);
    if (!read_options(&options, argc, argv, &status))
        return status;
    bool good = get_sample(&sample, &options, command) && chance_fit(&tables, &sample, &report);
    if (good) {
        print_report(&report);
        good = !options.write || chance_write(options.write, &tables, &report, command, sample.origin);
    }
    chance_sample_free(&sample);
    return good ? STATUS_DONE : STATUS_FAILED;
}
