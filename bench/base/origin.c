#include "bench/base/origin.h"
#include "bench/base/complaint.h"

#include <string.h>

static const char joint[] = " + ";

void origin_of_arguments(int argc, char **argv, char origin[ORIGIN_SIZE])
{
    size_t length = (size_t)snprintf(origin, ORIGIN_SIZE, PROGRAM_NAME);
    for (int i = 0; i < argc && length < ORIGIN_SIZE; i++)
        length += (size_t)snprintf(origin + length, ORIGIN_SIZE - length, " %s", argv[i]);
}

void origin_add_of_file(char origin[ORIGIN_SIZE], const char *path, const char *prefix)
{
    enum { PREFIX_MOST = 256 };
    char line[PREFIX_MOST + ORIGIN_SIZE];
    FILE *file = fopen(path, "r");
    if (file && fgets(line, sizeof line, file) && strncmp(line, prefix, strlen(prefix)) == 0) {
        size_t length = strlen(origin);
        line[strcspn(line, "\r\n")] = '\0';
        snprintf(origin + length, ORIGIN_SIZE - length, "%s%s", length ? joint : "", line + strlen(prefix));
    }
    if (file)
        fclose(file);
}

/* Commands, a line each, as text that must not end the comment it stands in. */
static void write_in_comment(FILE *out, const char *text)
{
    fputs(" *     ", out);
    for (const char *at = text; *at; at++) {
        if (strncmp(at, joint, strlen(joint)) == 0) {
            fputs("\n *     ", out);
            at += strlen(joint) - 1;
            continue;
        }
        if (at > text && at[-1] == '*' && *at == '/')
            fputc(' ', out);
        fputc(*at, out);
    }
    fputc('\n', out);
}

void origin_begin_comment(FILE *out, const char *command, const char *sample)
{
    fputs("/* clang-format off */\n"
          "/* Tuned: written by\n",
          out);
    write_in_comment(out, command);
    if (*sample && strcmp(sample, command) != 0) {
        fputs(" * on the sample of\n", out);
        write_in_comment(out, sample);
    }
}
