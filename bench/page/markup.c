#include "bench/page/markup.h"

#include "bench/base/utf8.h"

#include <stdlib.h>

static const char *entity(unsigned char c)
{
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

void markup_text(FILE *out, const char *text)
{
    while (*text != '\0') {
        int length = utf8_length(text);
        unsigned char c = (unsigned char)*text;
        const char *name = entity(c);
        if (length == 0)
            fputs("\xEF\xBF\xBD", out);
        else if (name != NULL)
            fputs(name, out);
        else if (length > 1 || (c >= 0x20 && c != 0x7F) || c == '\n' || c == '\t')
            fwrite(text, 1, (size_t)length, out);
        text += length > 0 ? length : 1;
    }
}

void markup_print_list(FILE *out, const char *format, va_list arguments)
{
    char *text = NULL;
    if (vasprintf(&text, format, arguments) < 0)
        return;
    markup_text(out, text);
    free(text);
}

void markup_print(FILE *out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    markup_print_list(out, format, arguments);
    va_end(arguments);
}
