#include "bench/play/arm.h"
#include "bench/base/complaint.h"
#include "bench/base/number.h"
#include "bench/base/rule.h"
#include "bench/play/uci_client.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { WEIGHT_MAX = 1000, VALUE_SIZE = 64, SPARRING_TEXT_SIZE = 64 };

static const int64_t nodes_max = INT64_C(1000000000000);

const Arm default_arm = {.weight = 100,
                         .rule = PS_STRICT,
                         .patience_ms = UCI_PATIENCE_MS,
                         .sparring = {.style = SPAR_OBJECTIVE, .margin = SPAR_MARGIN},
                         .parameters = {
#define X(name, value, least, greatest) .name = (value),
                             PARAMETER_TABLE(X)
#undef X
                         }};

/* All parameters must fit, or arms that differ would read the same: a space, the name, the sign, an int. */
#define X(name, value, least, greatest) +(1 + sizeof #name + 11)
_Static_assert(PARAMETER_TABLE(X) + SPARRING_TEXT_SIZE < ARM_TEXT_SIZE,
               "the text of an arm has no room for all parameters");
#undef X

/* What is written behind what stands there already, with a space between. */
static void add_words(char text[ARM_TEXT_SIZE], const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void add_words(char text[ARM_TEXT_SIZE], const char *format, ...)
{
    size_t length = strlen(text);
    va_list arguments;
    va_start(arguments, format);
    if (length > 0 && length + 1 < ARM_TEXT_SIZE)
        text[length++] = ' ';
    vsnprintf(text + length, ARM_TEXT_SIZE - length, format, arguments);
    va_end(arguments);
}

void arm_parameters_text(const Arm *arm, char text[ARM_TEXT_SIZE])
{
    const int *values = (const int *)&arm->parameters;
    const Sparring *sparring = &arm->sparring;
    text[0] = '\0';
    for (int i = 0; i < PARAMETER_COUNT; i++) {
        if (values[i] != parameter_table[i].value)
            add_words(text, "%s=%d", parameter_table[i].name, values[i]);
    }
    if (sparring->style != SPAR_OBJECTIVE)
        add_words(text, "style=%s margin=%d", spar_style_name(sparring->style), sparring->margin);
    if (sparring->elo)
        add_words(text, "elo=%d", sparring->elo);
}

void arm_text(const Arm *arm, char text[ARM_TEXT_SIZE])
{
    char parameters[ARM_TEXT_SIZE];
    size_t length =
        (size_t)snprintf(text, ARM_TEXT_SIZE, "weight %d, %s", arm->weight, ps_rule_name(arm->rule));
    if (arm->nodes)
        length +=
            (size_t)snprintf(text + length, ARM_TEXT_SIZE - length, ", %" PRId64 " nodes a move", arm->nodes);
    arm_parameters_text(arm, parameters);
    if (*parameters && length < ARM_TEXT_SIZE)
        length += (size_t)snprintf(text + length, ARM_TEXT_SIZE - length, ", %s", parameters);
    if (arm->engine && length < ARM_TEXT_SIZE)
        snprintf(text + length, ARM_TEXT_SIZE - length, ", played by %s", arm->engine);
}

/* Splits "A:B"; both are the whole text without a colon. */
static bool split(const char *text, char values[2][VALUE_SIZE])
{
    const char *colon = strchr(text, ':');
    int first = colon ? (int)(colon - text) : (int)strlen(text);
    if (first >= VALUE_SIZE || strlen(text) >= VALUE_SIZE)
        return false;
    snprintf(values[0], VALUE_SIZE, "%.*s", first, text);
    snprintf(values[1], VALUE_SIZE, "%s", colon ? colon + 1 : text);
    return true;
}

/* The same of whole numbers from `least` to `greatest`. */
static bool split_numbers(const char *text, int64_t least, int64_t greatest, int64_t numbers[2])
{
    char values[2][VALUE_SIZE];
    return split(text, values) && read_number(values[0], least, greatest, &numbers[0]) &&
           read_number(values[1], least, greatest, &numbers[1]);
}

bool arms_read_weights(Arm arms[2], const char *text)
{
    int64_t weights[2];
    if (!split_numbers(text, 0, WEIGHT_MAX, weights)) {
        complain(NULL, 0, "--weight is \"%s\"; expected A:B in percent, each from 0 to %d", text, WEIGHT_MAX);
        return false;
    }
    for (int i = 0; i < 2; i++)
        arms[i].weight = (int)weights[i];
    return true;
}

bool arms_read_rules(Arm arms[2], const char *text)
{
    char values[2][VALUE_SIZE];
    if (split(text, values) && read_rule(values[0], &arms[0].rule) && read_rule(values[1], &arms[1].rule))
        return true;
    complain(NULL, 0, "--rule is \"%s\"; expected A:B, each strict or loose", text);
    return false;
}

bool arms_read_nodes(Arm arms[2], const char *text)
{
    int64_t nodes[2];
    if (!split_numbers(text, 1, nodes_max, nodes)) {
        complain(NULL, 0, "--nodes is \"%s\"; expected a whole number above 0, or two as A:B", text);
        return false;
    }
    for (int i = 0; i < 2; i++)
        arms[i].nodes = nodes[i];
    return true;
}

bool arms_read_styles(Arm arms[2], const char *text)
{
    char values[2][VALUE_SIZE];
    SparStyle styles[2] = {SPAR_NO_STYLE, SPAR_NO_STYLE};
    for (int i = 0; i < 2 && split(text, values); i++)
        styles[i] = spar_style_read(values[i]);
    if (styles[0] == SPAR_NO_STYLE || styles[1] == SPAR_NO_STYLE) {
        complain(NULL, 0, "--style is \"%s\"; expected A:B, each objective, faithful, contrary or patient",
                 text);
        return false;
    }
    for (int i = 0; i < 2; i++)
        arms[i].sparring.style = styles[i];
    return true;
}

bool arms_read_margins(Arm arms[2], const char *text)
{
    int64_t margins[2];
    if (!split_numbers(text, 0, SPAR_MARGIN_MOST, margins)) {
        complain(NULL, 0, "--spar-margin is \"%s\"; expected A:B in centipawns, each from 0 to %d", text,
                 SPAR_MARGIN_MOST);
        return false;
    }
    for (int i = 0; i < 2; i++)
        arms[i].sparring.margin = (int)margins[i];
    return true;
}

static bool is_elo(int64_t elo)
{
    return elo == 0 || elo >= STRENGTH_LEAST;
}

bool arms_read_elos(Arm arms[2], const char *text)
{
    int64_t elos[2];
    if (!split_numbers(text, 0, STRENGTH_MOST, elos) || !is_elo(elos[0]) || !is_elo(elos[1])) {
        complain(NULL, 0, "--elo is \"%s\"; expected A:B, each from %d to %d, or 0 for full strength", text,
                 STRENGTH_LEAST, STRENGTH_MOST);
        return false;
    }
    for (int i = 0; i < 2; i++)
        arms[i].sparring.elo = (int)elos[i];
    return true;
}

static bool set_parameter(Arm *arm, const char *text, const char *name, int64_t value)
{
    switch (parameter_set(&arm->parameters, name, (int)value)) {
    case PARAMETER_SET:
        return true;
    case PARAMETER_UNKNOWN:
        complain(NULL, 0, "--set %s: there is no parameter %s; expected one of engine/search/parameters.h",
                 text, name);
        return false;
    case PARAMETER_OUT_OF_RANGE:
        for (int i = 0; i < PARAMETER_COUNT; i++) {
            if (strcmp(parameter_table[i].name, name) == 0)
                complain(NULL, 0, "--set %s: the value is out of range; expected %d to %d", text,
                         parameter_table[i].least, parameter_table[i].greatest);
        }
        return false;
    }
    return false;
}

bool arm_leaves_time_alone(const Arm *arm, const char *command, const char *expected)
{
    const int *values = (const int *)&arm->parameters;
    for (int i = PARAMETER_OF_TIME; i < PARAMETER_COUNT; i++)
        if (values[i] != parameter_table[i].value) {
            complain(NULL, 0, "%s: --set %s has no say without a clock; expected %s", command,
                     parameter_table[i].name, expected);
            return false;
        }
    return true;
}

bool arms_read_parameter(Arm arms[2], const char *text)
{
    char name[VALUE_SIZE];
    const char *sign = strchr(text, '=');
    int first = 0, last = 1;
    const char *start = text;
    int64_t value;
    if (strncmp(text, "A.", 2) == 0 || strncmp(text, "B.", 2) == 0) {
        first = last = text[0] - 'A';
        start += 2;
    }
    if (!sign || sign - start >= VALUE_SIZE || !read_number(sign + 1, INT32_MIN, INT32_MAX, &value)) {
        complain(NULL, 0, "--set is \"%s\"; expected NAME=VALUE, A.NAME=VALUE or B.NAME=VALUE", text);
        return false;
    }
    snprintf(name, sizeof name, "%.*s", (int)(sign - start), start);
    for (int i = first; i <= last; i++) {
        if (!set_parameter(&arms[i], text, name, value))
            return false;
    }
    return true;
}
