#include "bench/play/two_arms.h"
#include "bench/base/complaint.h"

#include <stdio.h>
#include <string.h>

void two_arms_options(TwoArms *given, Option table[TWO_ARMS_OPTION_COUNT])
{
    *given = (TwoArms){.weights = given->weight, .rules = ps_rule_name(default_arm.rule)};
    snprintf(given->weight, sizeof given->weight, "%d", default_arm.weight);
    const Option options[] = {
        {.name = "weight", .argument = "A:B", .help = "percent of the lever term", .text = &given->weights},
        {.name = "rule",
         .argument = "A:B",
         .help = "reading of the rule: strict, loose",
         .text = &given->rules},
        {.name = "set",
         .argument = "A.NAME=VALUE",
         .help = "a parameter of the search; as often as needed",
         .list = &given->parameters},
        {.name = "engine-a",
         .argument = "PATH",
         .help = "arm A is this program, driven by the UCI protocol",
         .text = &given->engines[0],
         .file = FILE_READ},
        {.name = "engine-b",
         .argument = "PATH",
         .help = "and arm B",
         .text = &given->engines[1],
         .file = FILE_READ},
    };
    _Static_assert(sizeof options == TWO_ARMS_OPTION_COUNT * sizeof *table, "as many rows as are promised");
    memcpy(table, options, sizeof options);
}

bool two_arms_read(const TwoArms *given, const char *command, Arm arms[2])
{
    arms[0] = arms[1] = default_arm;
    if (!arms_read_weights(arms, given->weights) || !arms_read_rules(arms, given->rules))
        return false;
    for (int i = 0; i < given->parameters.count; i++) {
        if (!arms_read_parameter(arms, given->parameters.items[i]))
            return false;
    }
    for (int i = 0; i < 2; i++) {
        arms[i].engine = given->engines[i];
        if (arms[i].engine &&
            memcmp(&arms[i].parameters, &default_parameters, sizeof default_parameters) != 0) {
            complain(NULL, 0,
                     "%s: --set is for the engine built in; expected it for an arm without --engine-%c",
                     command, 'a' + i);
            return false;
        }
    }
    return true;
}
