#include "bench/base/complaint.h"
#include "bench/base/utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <unistd.h>

enum { LINE_SIZE = 1 << 14 };

void complain(const char *file, long line, const char *format, ...)
{
    char text[LINE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    /* What a file says of itself must not look like a line of its own, nor speak to the terminal. */
    utf8_hide_controls(text);
    /* A progress line may stand there. */
    if (isatty(STDERR_FILENO))
        fputs("\r\033[K", stderr);
    fputs(PROGRAM_NAME ": ", stderr);
    if (file && line > 0)
        fprintf(stderr, "%s:%ld: ", file, line);
    else if (file)
        fprintf(stderr, "%s: ", file);
    fprintf(stderr, "%s\n", text);
}
