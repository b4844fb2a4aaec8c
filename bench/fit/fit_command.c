#include "bench/base/command_line.h"
#include "bench/base/commands.h"
#include "bench/base/common_options.h"
#include "bench/base/complaint.h"
#include "bench/base/file_conflict.h"
#include "bench/base/losses.h"
#include "bench/base/parallel.h"
#include "bench/fit/fit.h"
#include "bench/fit/fit_fold.h"
#include "bench/fit/fit_games.h"
#include "bench/fit/fit_loss.h"
#include "bench/fit/fit_model.h"
#include "bench/fit/fit_output.h"
#include "bench/fit/fit_play.h"
#include "bench/fit/fit_worth_print.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { TABLE_MIB = 4 };

typedef struct FitOptions {
    int64_t games, nodes, seed, workers, steps, units, every, plies_back, resamples;
    double prior, blend;
    const char *openings, *pgn, *sample, *write, *write_lever;
    char **more; /* samples */
    int more_count;
    bool worth, json, csv, quiet;
} FitOptions;

static bool worth_options_fit(const FitOptions *o)
{
    if (!o->worth && (o->json || o->csv))
        complain(NULL, 0, "fit: --json and --csv are for what is measured; expected --worth with them");
    else if (o->json && o->csv)
        complain(NULL, 0, "fit: --json and --csv exclude each other; expected one of them");
    else if (o->worth && (o->write || o->write_lever || o->units > 0 || o->blend > 0))
        complain(NULL, 0,
                 "fit: --worth measures against results and writes no weights; expected it without --write, "
                 "--write-lever, --units and --blend");
    else
        return true;
    return false;
}

static bool read_options(FitOptions *o, int argc, char **argv, Status *status)
{
    const Option options[] = {
        {.name = "games",
         .argument = "N",
         .help = "play so many games for the sample",
         .integer = &o->games,
         .least = 5,
         .greatest = FIT_GAME_MAX},
        {.name = "nodes",
         .argument = "N",
         .help = "positions a move in them",
         .integer = &o->nodes,
         .least = 100,
         .greatest = 1000000000},
        {.name = "seed",
         .argument = "N",
         .help = "of the random openings, and of resamples",
         .integer = &o->seed,
         .least = 0,
         .greatest = INT64_MAX},
        {.name = "openings",
         .argument = "FILE",
         .help = "EPD positions, one a game (default: random)",
         .text = &o->openings,
         .file = FILE_READ},
        {.name = "pgn",
         .argument = "FILE",
         .help = "take the sample from these games",
         .text = &o->pgn,
         .file = FILE_READ},
        {.name = "plies-back",
         .argument = "N",
         .help = "plans in hand are those so many plies earlier",
         .integer = &o->plies_back,
         .least = 0,
         .greatest = FIT_PLIES_BACK_MAX},
        {.name = "sample",
         .argument = "FILE",
         .help = "write the sample there; without games, read it",
         .text = &o->sample,
         .file = FILE_READ}, /* written with games: see below */
        {.name = "every",
         .argument = "N",
         .help = "fit to every N-th position only",
         .integer = &o->every,
         .least = 1,
         .greatest = 1000000},
        {.name = "steps",
         .argument = "N",
         .help = "of descent",
         .integer = &o->steps,
         .least = FIT_ROUNDS,
         .greatest = 1000000},
        {.name = "prior",
         .argument = "CP",
         .help = "how far a weight is thought to be off",
         .real = &o->prior,
         .real_least = 0.1,
         .real_greatest = 10000},
        {.name = "blend",
         .argument = "SHARE",
         .help = "of the search's scores in what is fitted to",
         .real = &o->blend,
         .real_least = 0,
         .real_greatest = 1},
        {.name = "units",
         .argument = "N",
         .help = "passes over what is not linear",
         .integer = &o->units,
         .least = 0,
         .greatest = 100},
        {.name = "worth", .help = "what each part of the lever term is worth", .flag = &o->worth},
        {.name = "resamples",
         .argument = "N",
         .help = "of the games, for the errors of --worth",
         .integer = &o->resamples,
         .least = 100,
         .greatest = WORTH_RESAMPLES_MAX},
        json_option(&o->json),
        csv_option(&o->csv),
        {.name = "write",
         .argument = "FILE",
         .help = "write engine/evaluation/weights.c there",
         .text = &o->write,
         .file = FILE_WRITTEN},
        {.name = "write-lever",
         .argument = "FILE",
         .help = "write structure/default_weights.c there",
         .text = &o->write_lever,
         .file = FILE_WRITTEN},
        workers_option(&o->workers, "threads, one for each processor"),
        quiet_option(&o->quiet),
        {.file = FILE_READ},
    };
    static const Usage usage = {
        "--games N | --pgn FILE | --sample FILE [FILE]... [OPTION]...",
        "Fits the weights of the evaluation to the results of games that the engine "
        "plays against itself. Holds\n"
        "out a fifth of the games and prints the loss on both parts. Writes weights "
        "only where it is told to.\n"
        "With --worth it measures what each part of the lever term is worth, with its error."};
    if (!command_line_read(&usage, options, &argc, &argv, status))
        return false;
    *status = STATUS_MISUSED;
    if (argc > 0 && (o->games || o->pgn || !o->sample)) {
        complain(NULL, 0,
                 "fit: \"%s\" is one argument too many; expected more samples behind --sample FILE only",
                 argv[0]);
        return false;
    }
    o->more = argv;
    o->more_count = argc;
    if (o->games == 0 && !o->pgn && !o->sample) {
        complain(NULL, 0,
                 "fit: there is no sample; expected --games N to play for one, --pgn FILE to take it from "
                 "games or --sample "
                 "FILE to read one");
        return false;
    }
    if (o->games && o->pgn) {
        complain(NULL, 0, "fit: --games and --pgn exclude each other; expected one of them");
        return false;
    }
    const NamedFile sources[] = {{"sample", o->sample, true},
                                 o->games ? (NamedFile){"openings", o->openings, false}
                                          : (NamedFile){"pgn", o->pgn, false}};
    if (o->sample && sources[1].path && !files_are_apart("fit", sources, 2))
        return false;
    if (o->games == 0 && o->openings) {
        complain(NULL, 0, "fit: --openings is for games; expected --games N with it");
        return false;
    }
    return worth_options_fit(o);
}

static bool read_samples(FitSample *sample, const FitOptions *o)
{
    bool good = fit_sample_read(sample, o->sample);
    for (int i = 0; good && i < o->more_count; i++)
        good = fit_sample_read(sample, o->more[i]);
    return good;
}

static bool get_sample(FitSample *sample, const FitOptions *o, const char *command)
{
    if (o->games == 0 && !o->pgn)
        return read_samples(sample, o);
    snprintf(sample->origin, sizeof sample->origin, "%s", command);
    if (o->pgn)
        return fit_games_read(sample, o->pgn, (int)o->plies_back) &&
               (!o->sample || fit_sample_write(sample, o->sample));
    const SelfPlay play = {.games = (size_t)o->games,
                           .nodes = o->nodes,
                           .seed = (uint64_t)o->seed,
                           .openings = o->openings,
                           .table_mib = TABLE_MIB,
                           .workers = (int)o->workers,
                           .quiet = o->quiet};
    if (!fit_play(sample, &play, (int)o->plies_back) || (o->sample && !fit_sample_write(sample, o->sample)))
        return false;
    return self_play_was_whole(o->sample);
}

static void print_report(const FitReport *r, size_t copies)
{
    if (copies)
        printf("copies    %zu games left out, each the same as one before it\n", copies);
    printf("fitted    %zu positions of %zu games\n", r->fitted.positions, r->fitted.games);
    printf("held out  %zu positions of %zu games\n", r->held_out.positions, r->held_out.games);
    printf("scale     %.1f centipawns", r->scale);
    if (!isnan(r->search_scale))
        printf("; of what the search thought %.1f", r->search_scale);
    printf("\nweights   %d, of them %d in no position, %d changed\n", r->halves, r->unseen, r->changed);
    puts("\nMean log-loss in nats (a draw counts as half a win and half a loss):\n"
         "             before     after     change");
    losses_print((LossChange){r->fitted.before, r->fitted.after},
                 (LossChange){r->held_out.before, r->held_out.after}, &r->change,
                 "one game held out, or games that have positions in common", "games held out");
}

static bool run_fit(const FitOptions *o, const FitSample *sample, size_t copies, const char *command)
{
    FitWeights weights = {default_weights, ps_default_weights};
    FitOrigin origin = {.command = command, .sample = sample->origin};
    const FitSettings settings = {.steps = (int)o->steps,
                                  .passes = (int)o->units,
                                  .blend = o->blend,
                                  .prior = o->prior,
                                  .workers = (int)o->workers,
                                  .quiet = o->quiet};
    if (!fit(&weights, sample, &settings, &origin.report))
        return false;
    print_report(&origin.report, copies);
    return (!o->write || fit_write_eval(o->write, &weights.eval, &origin)) &&
           (!o->write_lever || fit_write_lever(o->write_lever, &weights.lever, &origin));
}

static bool print_worth(const FitOptions *o, const FitWorth *worth, const WorthSettings *settings)
{
    if (o->json)
        return fit_worth_print_json(worth, &ps_default_weights, settings);
    if (o->csv)
        fit_worth_print_csv(worth, &ps_default_weights);
    else
        fit_worth_print(worth, &ps_default_weights, settings);
    return true;
}

static bool measure_worth(const FitOptions *o, const FitSample *sample)
{
    const FitWeights weights = {default_weights, ps_default_weights};
    WorthSettings settings = {.prior = o->prior, .resamples = (int)o->resamples, .seed = (uint64_t)o->seed};
    FitFeatures features = {0};
    FitWorth worth;
    double vector[FIT_DIMENSION];
    if (sample->count == 0) {
        complain(NULL, 0,
                 "the sample has no positions; expected games with quiet positions behind the first %d plies",
                 FIT_PLIES_SKIPPED);
        return false;
    }
    int *scores = fit_scores(sample, &weights);
    uint32_t *games = malloc((sample->count + 1) * sizeof *games);
    fit_to_vector(&weights, vector);
    bool good = scores && games &&
                fit_features_extract(&features, sample, &weights.eval.units, (int)o->workers) &&
                fit_features_linearise(&features, sample, &vector[FIT_LEVER]);
    if (good) {
        for (size_t i = 0; i < sample->count; i++)
            games[i] = sample->positions[i].game;
        settings.scale = fit_scale(sample, scores);
        good = fit_worth(&worth, &features, games, &weights, &settings) && print_worth(o, &worth, &settings);
    } else {
        complain(NULL, 0, "memory ran out for the fit");
    }
    free(scores);
    free(games);
    fit_features_free(&features);
    return good;
}

Status fit_command(int argc, char **argv)
{
    FitOptions options = {.nodes = 4000,
                          .seed = 1,
                          .workers = parallel_processors(),
                          .steps = 400,
                          .every = 1,
                          .prior = 30,
                          .plies_back = FIT_PLIES_BACK,
                          .resamples = 2000};
    FitSample sample = {0};
    char command[ORIGIN_SIZE];
    Status status;
    origin_of_arguments(argc, argv, command);
    if (!read_options(&options, argc, argv, &status))
        return status;
    size_t copies = 0;
    bool good = get_sample(&sample, &options, command);
    if (good && !fit_fold(&sample, &copies)) {
        complain(NULL, 0, "memory ran out for the sample");
        good = false;
    }
    fit_sample_thin(&sample, (size_t)options.every);
    if (options.worth) {
        fit_sample_hold_nothing_out(&sample);
        good = good && measure_worth(&options, &sample);
    } else {
        good = good && run_fit(&options, &sample, copies, command);
    }
    fit_sample_free(&sample);
    return good ? STATUS_DONE : STATUS_FAILED;
}
