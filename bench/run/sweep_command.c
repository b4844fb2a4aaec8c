#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/rule.h"
#include "bench/run/experiment_options.h"

#include <stdio.h>
#include <string.h>

enum { SWEEP_OPTION_COUNT = 3, WEIGHT_MAX = 1000, LIST_SIZE = 1024 };

/* Not the duel's: what is chosen by a sweep can be confirmed by a duel only on other openings. */
enum { SWEEP_SEED = 2 };

typedef struct SweepOptions {
    const char *weights, *rules;
    int64_t nodes;
} SweepOptions;

/* Arm 0 is the one that all others play against: without the term. */
static bool add_arm(Experiment *e, int weight, ps_rule rule)
{
    for (int i = 0; i < e->arm_count; i++) {
        if (e->arms[i].weight == weight && e->arms[i].rule == rule) {
            complain(NULL, 0, "sweep: weight %d, %s is there twice; expected it once", weight,
                     ps_rule_name(rule));
            return false;
        }
    }
    if (e->arm_count == ARMS_MAX) {
        complain(NULL, 0, "sweep: there are too many arms; expected %d at most", ARMS_MAX);
        return false;
    }
    Arm arm = default_arm;
    arm.weight = weight;
    arm.rule = rule;
    if (e->arm_count > 0)
        e->matches[e->match_count++] = (Match){e->arm_count, 0};
    e->arms[e->arm_count++] = arm;
    return true;
}

static bool add_weights(Experiment *e, const char *weights, ps_rule rule)
{
    char list[LIST_SIZE], *rest;
    snprintf(list, sizeof list, "%s", weights);
    for (char *word = strtok_r(list, ",", &rest); word; word = strtok_r(NULL, ",", &rest)) {
        int64_t weight;
        if (!read_number(word, 1, WEIGHT_MAX, &weight)) {
            complain(NULL, 0, "--weights has \"%s\"; expected percents from 1 to %d, commas between", word,
                     WEIGHT_MAX);
            return false;
        }
        if (!add_arm(e, (int)weight, rule))
            return false;
    }
    return true;
}

static bool add_arms(Experiment *e, const SweepOptions *given)
{
    char list[LIST_SIZE], *rest;
    snprintf(list, sizeof list, "%s", given->rules);
    if (!add_arm(e, 0, PS_STRICT))
        return false;
    for (char *word = strtok_r(list, ",", &rest); word; word = strtok_r(NULL, ",", &rest)) {
        ps_rule rule;
        if (!read_rule(word, &rule)) {
            complain(NULL, 0, "--rules has \"%s\"; expected strict, loose or both, a comma between", word);
            return false;
        }
        if (!add_weights(e, given->weights, rule))
            return false;
    }
    if (e->match_count > 0)
        return true;
    complain(NULL, 0, "sweep: there is nothing to play; expected a weight and a rule at least");
    return false;
}

Status sweep_command(int argc, char **argv)
{
    SweepOptions given = {.weights = "25,50,100,150,200", .rules = "strict,loose"};
    ExperimentOptions common;
    Option options[SWEEP_OPTION_COUNT + EXPERIMENT_OPTION_COUNT + 1] = {
        {.name = "weights", .argument = "LIST", .help = "percents of the lever term", .text = &given.weights},
        {.name = "rules", .argument = "LIST", .help = "readings of the rule", .text = &given.rules},
        {.name = "nodes",
         .argument = "N",
         .help = "positions a move (" DIGITS_OF(EXPERIMENT_NODES) " if there is no other limit)",
         .integer = &given.nodes,
         .least = 1,
         .greatest = INT64_C(1000000000000)},
    };
    static const Usage usage = {
        "[OPTION]...",
        "Plays many weights of the lever term, in each reading of the rule, against weight 0 on the same\n"
        "openings: how the effect depends on the dose."};
    Experiment experiment = {.kind = "sweep"};
    Status status;
    experiment_options_table(&common, options + SWEEP_OPTION_COUNT);
    common.seed = SWEEP_SEED;
    if (!command_line_read(&usage, options, &argc, &argv, &status))
        return status;
    if (argc > 0) {
        complain(NULL, 0, "sweep: \"%s\" is one argument too many; expected options only", argv[0]);
        return STATUS_MISUSED;
    }
    if (!add_arms(&experiment, &given))
        return STATUS_MISUSED;
    for (int i = 0; i < experiment.arm_count; i++)
        experiment.arms[i].nodes = given.nodes;
    return experiment_options_run(&common, &experiment);
}
