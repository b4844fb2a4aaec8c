#include "bench/base/csv.h"

#include <string.h>

void csv_text(FILE *out, const char *text)
{
    if (!strpbrk(text, ",\"\r\n")) {
        fputs(text, out);
        return;
    }
    fputc('"', out);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', out);
        fputc(*text, out);
    }
    fputc('"', out);
}
