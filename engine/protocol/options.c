#include "engine/protocol/options.h"

#include "engine/protocol/words.h"

#include <stddef.h>
#include <string.h>
#include <strings.h>

typedef enum OptionKind { SPIN, CHECK, CHOICE, BUTTON, TEXT } OptionKind;

/* After an option has changed; false if the system refused. */
typedef bool (*OptionEffect)(const Options *options, Player *player);

typedef struct OptionInfo {
    const char *name;
    OptionKind kind;
    size_t offset; /* in Options: an int, for CHECK a bool, for CHOICE an enum with a member -1 */
    int value, least, greatest;
    OptionEffect effect;
    const char *(*choice_name)(int choice); /* for CHOICE */
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

static const char *rule_name(int rule)
{
    return ps_rule_name((ps_rule)rule);
}

static const char *style_name(int style)
{
    return spar_style_name((SparStyle)style);
}

#define AT(member) offsetof(Options, member)
static const OptionInfo option_table[] = {
    {"Hash", SPIN, AT(hash_mib), 64, 1, 65536, resize, NULL},
    {"Threads", SPIN, AT(threads), 1, 1, WORKERS_MAX, set_threads, NULL},
    {"Clear Hash", BUTTON, 0, 0, 0, 0, clear, NULL},
    {"Ponder", CHECK, AT(ponder), 0, 0, 1, NULL, NULL},
    {"MultiPV", SPIN, AT(lines), 1, 1, 64, NULL, NULL},
    {"UCI_AnalyseMode", CHECK, AT(analyse_mode), 0, 0, 1, NULL, NULL},
    {"UCI_Chess960", CHECK, AT(chess960), 0, 0, 1, NULL, NULL},
    {"UCI_EngineAbout", TEXT, 0, 0, 0, 0, NULL, NULL},
    {"UCI_LimitStrength", CHECK, AT(limit_strength), 0, 0, 1, NULL, NULL},
    {"UCI_Elo", SPIN, AT(elo), STRENGTH_MOST, STRENGTH_LEAST, STRENGTH_MOST, NULL, NULL},
    {"LeverWeight", SPIN, AT(lever_weight), 100, 0, 1000, pass_on, NULL},
    {"LeverRule", CHOICE, AT(lever_rule), PS_STRICT, PS_STRICT, PS_LOOSE, pass_on, rule_name},
    {"SparStyle", CHOICE, AT(spar_style), SPAR_OBJECTIVE, 0, SPAR_STYLE_COUNT - 1, NULL, style_name},
    {"SparMargin", SPIN, AT(spar_margin), SPAR_MARGIN, 0, SPAR_MARGIN_MOST, NULL, NULL},
    {"SparSeed", SPIN, AT(spar_seed), -1, -1, 1000000000, NULL, NULL},
    {"PlanNotes", CHECK, AT(plan_notes), 0, 0, 1, NULL, NULL},
    {"ClockReserve", SPIN, AT(clock_reserve), CLOCK_RESERVE, 0, 10000, NULL, NULL},
};
#undef AT

_Static_assert(sizeof(ps_rule) == sizeof(int) && sizeof(SparStyle) == sizeof(int),
               "choices are kept as ints");

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
    else if (info->kind == CHOICE || info->kind == SPIN)
        memcpy(field(options, info), &value, sizeof value);
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
            fprintf(out, "combo default %s", info->choice_name(info->value));
            for (int choice = info->least; choice <= info->greatest; choice++)
                fprintf(out, " var %s", info->choice_name(choice));
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
            if (strcasecmp(text, info->choice_name(*value)) == 0)
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
