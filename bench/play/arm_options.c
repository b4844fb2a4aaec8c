#include "bench/play/arm_options.h"
#include "bench/base/complaint.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct ArmOption {
    const char *name;
    bool needed; /* the arm asks for anything but the default */
    char value[24];
} ArmOption;

enum { ARM_OPTIONS = 8 };

static ArmOption number_option(const char *name, bool needed, int64_t value)
{
    ArmOption option = {name, needed, ""};
    snprintf(option.value, sizeof option.value, "%" PRId64, value);
    return option;
}

static ArmOption word_option(const char *name, bool needed, const char *value)
{
    ArmOption option = {name, needed, ""};
    snprintf(option.value, sizeof option.value, "%s", value);
    return option;
}

static void list_options(const Arm *arm, int table_mib, ArmOption list[ARM_OPTIONS])
{
    const Sparring *sparring = &arm->sparring;
    bool styled = sparring->style != SPAR_OBJECTIVE, weak = sparring->elo != 0;
    const ArmOption options[ARM_OPTIONS] = {
        number_option("Hash", false, table_mib),
        number_option("LeverWeight", arm->weight != default_arm.weight, arm->weight),
        word_option("LeverRule", arm->rule != default_arm.rule, ps_rule_name(arm->rule)),
        word_option("SparStyle", styled, spar_style_name(sparring->style)),
        number_option("SparMargin", styled, sparring->margin),
        number_option("SparSeed", false, (int64_t)sparring->seed),
        number_option("UCI_Elo", weak, weak ? sparring->elo : STRENGTH_MOST),
        word_option("UCI_LimitStrength", weak, weak ? "true" : "false"),
    };
    memcpy(list, options, sizeof options);
}

/* Whether a number is within the bounds of the program's option; a word always is. */
static bool is_within(const UciClient *client, const ArmOption *option, int64_t *least, int64_t *greatest)
{
    return !uci_client_option_range(client, option->name, least, greatest) ||
           (atoll(option->value) >= *least && atoll(option->value) <= *greatest);
}

static bool fits(const UciClient *client, const char *program, const ArmOption *option)
{
    int64_t least, greatest;
    if (!uci_client_has_option(client, option->name))
        complain(program, 0, "the engine has no option %s; expected one, or an arm that needs none",
                 option->name);
    else if (!is_within(client, option, &least, &greatest))
        complain(program, 0,
                 "the engine's option %s goes from %" PRId64 " to %" PRId64
                 "; expected an arm within that, not %s",
                 option->name, least, greatest, option->value);
    else
        return true;
    return false;
}

bool arm_options_fit(const UciClient *client, const Arm *arm)
{
    ArmOption list[ARM_OPTIONS];
    list_options(arm, 0, list);
    for (int i = 0; i < ARM_OPTIONS; i++)
        if (list[i].needed && !fits(client, arm->engine, &list[i]))
            return false;
    return true;
}

bool arm_options_set(UciClient *client, const Arm *arm, int table_mib)
{
    ArmOption list[ARM_OPTIONS];
    list_options(arm, table_mib, list);
    for (int i = 0; i < ARM_OPTIONS; i++) {
        int64_t least, greatest;
        if (uci_client_has_option(client, list[i].name) && is_within(client, &list[i], &least, &greatest) &&
            !uci_client_set_option(client, list[i].name, list[i].value))
            return false;
    }
    return true;
}
