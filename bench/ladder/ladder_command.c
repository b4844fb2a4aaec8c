#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/ladder/ladder_print.h"
#include "bench/run/experiment_options.h"

#include <stdio.h>
#include <string.h>

enum { LADDER_OPTION_COUNT = 2, LIST_SIZE = 512 };

#define LADDER_PAIRS 200

static bool add_level(Experiment *e, int elo)
{
    if (e->arm_count > 0 && elo <= e->arms[e->arm_count - 1].sparring.elo) {
        complain(NULL, 0, "--levels has %d behind %d; expected ratings that rise", elo,
                 e->arms[e->arm_count - 1].sparring.elo);
        return false;
    }
    if (e->arm_count == LADDER_LEVELS_MAX) {
        complain(NULL, 0, "--levels has too many ratings; expected %d at most", LADDER_LEVELS_MAX);
        return false;
    }
    Arm arm = default_arm;
    arm.sparring.elo = elo;
    if (e->arm_count > 0)
        e->matches[e->match_count++] = (Match){e->arm_count, e->arm_count - 1};
    e->arms[e->arm_count++] = arm;
    return true;
}

static bool read_levels(Experiment *e, const char *text)
{
    char list[LIST_SIZE], *rest;
    snprintf(list, sizeof list, "%s", text);
    for (char *word = strtok_r(list, ",", &rest); word; word = strtok_r(NULL, ",", &rest)) {
        int64_t elo;
        if (!read_number(word, STRENGTH_LEAST, STRENGTH_MOST, &elo)) {
            complain(NULL, 0, "--levels has \"%s\"; expected ratings from %d to %d, commas between", word,
                     STRENGTH_LEAST, STRENGTH_MOST);
            return false;
        }
        if (!add_level(e, (int)elo))
            return false;
    }
    if (e->match_count > 0)
        return true;
    complain(NULL, 0, "--levels is \"%s\"; expected two ratings at least, commas between", text);
    return false;
}

Status ladder_command(int argc, char **argv)
{
    const char *levels = "1000,1200,1400,1600,1800,2000,2200,2400", *path = NULL;
    ExperimentOptions common;
    Option options[LADDER_OPTION_COUNT + EXPERIMENT_OPTION_COUNT + 1] = {
        {.name = "levels",
         .argument = "LIST",
         .help = "ratings, each of which plays the next",
         .text = &levels},
        {.name = "suite",
         .argument = "FILE",
         .help = "EPD with bm: count, too, what each level solves of it",
         .text = &path,
         .file = FILE_READ},
    };
    static const Usage usage = {
        "[OPTION]...",
        "Calibrates the strengths that a rating limits the engine to: each level plays the next one, every\n"
        "opening twice with colours changed. The ratings are of no federation."};
    Experiment experiment = {.kind = "ladder"};
    Status status;
    experiment_options_table(&common, options + LADDER_OPTION_COUNT);
    common.pairs = LADDER_PAIRS;
    common.print = ladder_print;
    LadderSuite suite = {0};
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc > 0) {
        complain(NULL, 0, "ladder: \"%s\" is one argument too many; expected options only", argv[0]);
        return STATUS_MISUSED;
    }
    if (common.questions.effect > 0 || common.questions.margin > 0) {
        complain(NULL, 0, "ladder: --effect and --margin are questions to a duel or sweep; expected neither");
        return STATUS_MISUSED;
    }
    if (!read_levels(&experiment, levels))
        return STATUS_MISUSED;
    if (path)
        common.print_context = &suite;
    status = path && !ladder_suite_read(&suite, path) ? STATUS_FAILED
                                                      : experiment_options_run(&common, &experiment);
    ladder_suite_free(&suite);
    return status;
}
