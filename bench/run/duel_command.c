#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/play/two_arms.h"
#include "bench/run/experiment_options.h"

#include <string.h>

typedef struct DuelOptions {
    TwoArms arms;
    const char *nodes, *styles, *margins, *elos;
    int until;
    double precision;
    SequentialTest test;
} DuelOptions;

enum { DUEL_OPTION_COUNT = 10 };

static const char *const until_words[] = {"pairs", "interval", "decided", NULL};

static bool read_arms(const DuelOptions *given, Arm arms[2])
{
    return two_arms_read(&given->arms, "duel", arms) &&
           (!given->nodes || arms_read_nodes(arms, given->nodes)) && arms_read_styles(arms, given->styles) &&
           (!given->margins || arms_read_margins(arms, given->margins)) &&
           (!given->elos || arms_read_elos(arms, given->elos));
}

static bool read_stop(const DuelOptions *given, StopRule *stop)
{
    *stop = (StopRule){.when = given->until, .half_width = given->precision, .test = given->test};
    if (given->test.null_elo < given->test.alternative_elo)
        return true;
    complain(NULL, 0, "duel: --alternative is %g and --null is %g; expected --alternative to be greater",
             given->test.alternative_elo, given->test.null_elo);
    return false;
}

Status duel_command(int argc, char **argv)
{
    DuelOptions given = {
        .styles = spar_style_name(default_arm.sparring.style), .precision = 10, .test = {0, 5, 0.05, 0.05}};
    ExperimentOptions common;
    Option options[TWO_ARMS_OPTION_COUNT + DUEL_OPTION_COUNT + EXPERIMENT_OPTION_COUNT + 1];
    const Option own[DUEL_OPTION_COUNT] = {
        {.name = "nodes",
         .argument = "A:B",
         .help = "positions a move (" DIGITS_OF(EXPERIMENT_NODES) " if there is no other limit)",
         .text = &given.nodes},
        {.name = "style",
         .argument = "A:B",
         .help = "how plans are treated: objective, faithful, contrary, patient",
         .text = &given.styles},
        {.name = "spar-margin",
         .argument = "A:B",
         .help = "centipawns that a style may cost (" DIGITS_OF(SPAR_MARGIN) ")",
         .text = &given.margins},
        {.name = "elo",
         .argument = "A:B",
         .help = "strength, " DIGITS_OF(STRENGTH_LEAST) " to " DIGITS_OF(STRENGTH_MOST) " (full)",
         .text = &given.elos},
        {.name = "until",
         .argument = "RULE",
         .help = "stop early",
         .choice = &given.until,
         .choices = until_words},
        {.name = "precision",
         .argument = "ELO",
         .help = "interval: half its width",
         .real = &given.precision,
         .real_least = 0.1,
         .real_greatest = 1000},
        {.name = "null",
         .argument = "ELO",
         .help = "decided: A is better by this, or ...",
         .real = &given.test.null_elo,
         .real_least = -1000,
         .real_greatest = 1000},
        {.name = "alternative",
         .argument = "ELO",
         .help = "... by this",
         .real = &given.test.alternative_elo,
         .real_least = -1000,
         .real_greatest = 1000},
        {.name = "false-alarm",
         .argument = "P",
         .help = "decided: risk of wrongly taking the alternative",
         .real = &given.test.false_alarm,
         .real_least = 1e-6,
         .real_greatest = 0.4},
        {.name = "miss",
         .argument = "P",
         .help = "decided: risk of wrongly taking the null",
         .real = &given.test.miss,
         .real_least = 1e-6,
         .real_greatest = 0.4},
    };
    static const Usage usage = {
        "[OPTION]...",
        "Plays arm A against arm B, every opening twice with colours changed, and says by how much A is "
        "better.\n"
        "What holds for both arms is given once (--nodes 5000), what differs as A:B (--weight 100:0)."};
    Experiment experiment = {.kind = "duel", .arm_count = 2, .match_count = 1, .matches = {{0, 1}}};
    Status status;
    two_arms_options(&given.arms, options);
    memcpy(options + TWO_ARMS_OPTION_COUNT, own, sizeof own);
    experiment_options_table(&common, options + TWO_ARMS_OPTION_COUNT + DUEL_OPTION_COUNT);
    options[TWO_ARMS_OPTION_COUNT + DUEL_OPTION_COUNT + EXPERIMENT_OPTION_COUNT] = (Option){0};
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc > 0) {
        complain(NULL, 0, "duel: \"%s\" is one argument too many; expected options only", argv[0]);
        return STATUS_MISUSED;
    }
    if (!read_arms(&given, experiment.arms) || !read_stop(&given, &experiment.stop))
        return STATUS_MISUSED;
    return experiment_options_run(&common, &experiment);
}
