#include "engine/protocol/options.h"

#include "engine/protocol/words.h"

#include <stddef.h>
#include <strings.h>

typedef enum OptionKind { SPIN, CHECK, CHOICE, BUTTON, TEXT } OptionKind;

/* After an option has changed; false if the system refused. */
typedef bool (*OptionEffect)(const Options *options, Player *player);

typedef struct OptionInfo {
    const char *name;
    OptionKind kind;
    size_t offset; /* in Options: an int, for CHECK a bool, for CHOICE the rule */
    int value, least, greatest;
    OptionEffect effect;
} OptionInfo;

static bool resize(const Options *options, Player *player)
{
    return player_resize(player, (size_t)options->hash_mib);
}

static bool set_threads(const Options *options, Player *player)
{
    return player_set_workers(player, options->threads);
}

static bool clear(const Options *options, Player *player)
{
    (void)options;
    player_forget(player);
    return true;
}

static bool pass_on(const Options *options, Player *player)
{
    player_settings(player)->lever_weight = options->lever_weight;
    player_settings(player)->lever_rule = options->lever_rule;
    return true;
}

static const OptionInfo option_table[] = {
    {"Hash", SPIN, offsetof(Options, hash_mib), 64, 1, 65536, resize},
    {"Threads", SPIN, offsetof(Options, threads), 1, 1, WORKERS_MAX, set_threads},
    {"Clear Hash", BUTTON, 0, 0, 0, 0, clear},
    {"Ponder", CHECK, offsetof(Options, ponder), 0, 0, 1, NULL},
    {"MultiPV", SPIN, offsetof(Options, lines), 1, 1, 64, NULL},
    {"UCI_AnalyseMode", CHECK, offsetof(Options, analyse_mode), 0, 0, 1, NULL},
    {"UCI_Chess960", CHECK, offsetof(Options, chess960), 0, 0, 1, NULL},
    {"UCI_EngineAbout", TEXT, 0, 0, 0, 0, NULL},
    {"LeverWeight", SPIN, offsetof(Options, lever_weight), 100, 0, 1000, pass_on},
    {"LeverRule", CHOICE, offsetof(Options, lever_rule), PS_STRICT, PS_STRICT, PS_LOOSE, pass_on},
    {"PlanNotes", CHECK, offsetof(Options, plan_notes), 0, 0, 1, NULL},
    {"ClockReserve", SPIN, offsetof(Options, clock_reserve), 40, 0, 10000, NULL},
};

enum { OPTION_COUNT = sizeof option_table / sizeof option_table[0] };

static const char about[] =
    "Pawnvane, an engine that plays by pawn levers. For study: not for use in a game that is not "
    "meant for engines.";

static void *field(Options *options, const OptionInfo *info)
{
    return (char *)options + info->offset;
}

static void store(Options *options, const OptionInfo *info, int value)
{
    if (info->kind == CHECK)
        *(bool *)field(options, info) = value != 0;
    else if (info->kind == CHOICE)
        *(ps_rule *)field(options, info) = value;
    else if (info->kind == SPIN)
        *(int *)field(options, info) = value;
}

void options_defaults(Options *options)
{
    for (int i = 0; i < OPTION_COUNT; i++)
        store(options, &option_table[i], option_table[i].value);
}

void options_print(FILE *out)
{
    for (int i = 0; i < OPTION_COUNT; i++) {
        const OptionInfo *info = &option_table[i];
        fprintf(out, "option name %s type ", info->name);
        switch (info->kind) {
        case SPIN:
            fprintf(out, "spin default %d min %d max %d\n", info->value, info->least, info->greatest);
            break;
        case CHECK:
            fprintf(out, "check default %s\n", info->value ? "true" : "false");
            break;
        case CHOICE:
            fprintf(out, "combo default %s", ps_rule_name(info->value));
            for (ps_rule rule = info->least; rule <= info->greatest; rule++)
                fprintf(out, " var %s", ps_rule_name(rule));
            fputc('\n', out);
            break;
        case TEXT:
            fprintf(out, "string default %s\n", about);
            break;
        case BUTTON:
            fputs("button\n", out);
            break;
        }
    }
}

const char *option_error_text(OptionError error)
{
    static const char *const texts[] = {
        [OPTION_SET] = "no error",
        [OPTION_UNKNOWN] = "there is no such option",
        [OPTION_BAD_VALUE] = "the value is not one that the option takes",
        [OPTION_REFUSED] = "the system does not give that much; nothing has changed",
    };
    return texts[error];
}

static bool read_value(const OptionInfo *info, const char *text, int *value)
{
    if (info->kind == BUTTON || info->kind == TEXT)
        return true;
    if (!text)
        return false;
    switch (info->kind) {
    case CHECK:
        *value = strcasecmp(text, "true") == 0;
        return *value || strcasecmp(text, "false") == 0;
    case CHOICE:
        for (*value = info->least; *value <= info->greatest; ++*value)
            if (strcasecmp(text, ps_rule_name(*value)) == 0)
                return true;
        return false;
    default:
        return whole_number(text, info->least, info->greatest, value);
    }
}

OptionError options_set(Options *options, Player *player, const char *name, const char *value)
{
    for (int i = 0; i < OPTION_COUNT; i++) {
        const OptionInfo *info = &option_table[i];
        int number = 0;
        if (strcasecmp(name, info->name) != 0)
            continue;
        if (!read_value(info, value, &number))
            return OPTION_BAD_VALUE;
        Options changed = *options;
        store(&changed, info, number);
        if (info->effect && !info->effect(&changed, player))
            return OPTION_REFUSED;
        *options = changed;
        return OPTION_SET;
    }
    return OPTION_UNKNOWN;
}
