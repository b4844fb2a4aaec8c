#include "bench/base/command_line.h"
#include "bench/base/complaint.h"
#include "bench/base/file_conflict.h"
#include "bench/base/nearest.h"
#include "bench/base/number.h"

#include <errno.h>
#include <getopt.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { OPTIONS_MAX = 40, HELP_COLUMN = 26 };

static void print_choices(FILE *out, const char *const *choices)
{
    for (int i = 0; choices[i]; i++)
        fprintf(out, "%s%s", i == 0 ? "" : choices[i + 1] ? ", " : " or ", choices[i]);
}

/* The value that holds if the option is not given, unless that is none. */
static void print_default(const Option *o)
{
    if (o->required)
        return;
    if (o->integer && *o->integer >= o->least && *o->integer <= o->greatest)
        printf(" (%" PRId64 ")", *o->integer);
    else if (o->real && *o->real >= o->real_least && *o->real <= o->real_greatest)
        printf(" (%g)", *o->real);
    else if (o->text && *o->text)
        printf(" (%s)", *o->text);
    else if (o->choice && o->choices)
        printf(" (%s)", o->choices[*o->choice]);
}

static void print_help(const Usage *usage, const char *command, const Option *options)
{
    printf("Usage: " PROGRAM_NAME " %s%s%s\n\n%s\n\nOptions:\n", command, *usage->arguments ? " " : "",
           usage->arguments, usage->text);
    for (const Option *o = options; o->name; o++) {
        int width = printf("  --%s%s%s", o->name, o->argument ? " " : "", o->argument ? o->argument : "");
        printf("%*s%s", width < HELP_COLUMN ? HELP_COLUMN - width : 1, "", o->help);
        if (o->choices) {
            fputs(": ", stdout);
            print_choices(stdout, o->choices);
        }
        print_default(o);
        puts("");
    }
    printf("  %-*s%s\n", HELP_COLUMN - 2, "--help", "show this and stop");
}

static bool read_integer(const Option *o, const char *text)
{
    if (read_number(text, o->least, o->greatest, o->integer))
        return true;
    complain(NULL, 0, "--%s is \"%s\"; expected a whole number from %" PRId64 " to %" PRId64, o->name, text,
             o->least, o->greatest);
    return false;
}

static bool read_real(const Option *o, const char *text)
{
    char *end;
    errno = 0;
    double value = strtod(text, &end);
    /* Written so that NaN is out of range too. */
    if (errno || end == text || *end || !(value >= o->real_least && value <= o->real_greatest)) {
        complain(NULL, 0, "--%s is \"%s\"; expected a number from %g to %g", o->name, text, o->real_least,
                 o->real_greatest);
        return false;
    }
    *o->real = value;
    return true;
}

static bool read_choice(const Option *o, const char *text)
{
    for (int i = 0; o->choices[i]; i++) {
        if (strcmp(o->choices[i], text) == 0) {
            *o->choice = i;
            return true;
        }
    }
    char expected[256] = "";
    for (int i = 0; o->choices[i]; i++) {
        size_t length = strlen(expected);
        snprintf(expected + length, sizeof expected - length, "%s%s",
                 i == 0              ? ""
                 : o->choices[i + 1] ? ", "
                                     : " or ",
                 o->choices[i]);
    }
    complain(NULL, 0, "--%s is \"%s\"; expected %s", o->name, text, expected);
    return false;
}

static bool read_list(const Option *o, const char *text)
{
    if (o->list->count == TEXT_LIST_MAX) {
        complain(NULL, 0, "--%s is there too often; expected it %d times at most", o->name, TEXT_LIST_MAX);
        return false;
    }
    o->list->items[o->list->count++] = text;
    return true;
}

static bool read_value(const Option *o, const char *text)
{
    if (o->integer)
        return read_integer(o, text);
    if (o->real)
        return read_real(o, text);
    if (o->choice)
        return read_choice(o, text);
    if (o->list)
        return read_list(o, text);
    if (o->text)
        *o->text = text;
    else
        *o->flag = true;
    return true;
}

/* The name of the option that getopt_long() stopped at, for the message about it. */
static const char *current_argument(char **argv)
{
    return argv[optind - 1];
}

static void complain_unknown(const char *command, const Option *options, int count, const char *argument)
{
    const char *names[OPTIONS_MAX];
    char typed[64];
    for (int i = 0; i < count; i++)
        names[i] = options[i].name;
    snprintf(typed, sizeof typed, "%.*s", (int)strcspn(argument, "="), argument);
    int nearest = nearest_word(typed + strspn(typed, "-"), names, count);
    if (nearest >= 0)
        complain(NULL, 0, "%s: unknown option %s; did you mean --%s?", command, argument, names[nearest]);
    else
        complain(NULL, 0, "%s: unknown option %s; expected one that \"" PROGRAM_NAME " %s --help\" lists",
                 command, argument, command);
}

/* The files of the options, then those of the operands: room for OPTIONS_MAX + argc. */
static size_t list_files(const Option *options, int argc, char **argv, NamedFile *files)
{
    size_t count = 0;
    const Option *o = options;
    for (; o->name; o++) {
        if (o->file != FILE_NONE && *o->text)
            files[count++] = (NamedFile){o->name, *o->text, o->file == FILE_WRITTEN};
    }
    for (int i = 0; i < argc && o->file != FILE_NONE; i++)
        files[count++] = (NamedFile){NULL, argv[i], o->file == FILES_JOINED && i == 0};
    return count;
}

static bool files_make_sense(const char *command, const Option *options, int argc, char **argv)
{
    NamedFile *files = calloc(OPTIONS_MAX + (size_t)argc, sizeof *files);
    if (!files) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    bool good = files_are_apart(command, files, list_files(options, argc, argv, files));
    free(files);
    return good;
}

bool command_line_read(const Usage *usage, const Option *options, int *argc, char ***argv, Status *status)
{
    struct option table[OPTIONS_MAX + 2] = {0};
    bool given[OPTIONS_MAX] = {false};
    int count = 0;
    for (; count < OPTIONS_MAX && options[count].name; count++) {
        table[count].name = options[count].name;
        table[count].has_arg = options[count].flag ? no_argument : required_argument;
    }
    table[count].name = "help";

    const char *command = (*argv)[0];
    *status = STATUS_MISUSED;
    opterr = 0;
    /* The names first, then the values: what --help shows are the defaults, wherever it stands. */
    for (int values = 0; values < 2; values++) {
        int index = 0, found;
        optind = 0;
        while ((found = getopt_long(*argc, *argv, ":", table, &index)) != -1) {
            if (found == '?') {
                complain_unknown(command, options, count, current_argument(*argv));
                return false;
            }
            if (found == ':') {
                complain(NULL, 0, "%s: %s has no value; expected one behind it", command,
                         current_argument(*argv));
                return false;
            }
            if (index == count) {
                print_help(usage, command, options);
                *status = STATUS_DONE;
                return false;
            }
            if (values && !read_value(&options[index], optarg))
                return false;
            given[index] = true;
        }
    }
    for (int i = 0; i < count; i++) {
        if (options[i].required && !given[i]) {
            complain(NULL, 0, "%s: --%s is missing; expected --%s %s", command, options[i].name,
                     options[i].name, options[i].argument);
            return false;
        }
    }
    *argc -= optind;
    *argv += optind;
    return files_make_sense(command, options, *argc, *argv);
}

bool operand_ends(const char *operand, const char *ending)
{
    size_t length = strlen(operand), tail = strlen(ending);
    return length > tail && strcasecmp(operand + length - tail, ending) == 0;
}
