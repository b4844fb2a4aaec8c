#include "bench/base/csv.h"

#include <math.h>
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

void csv_reals(FILE *out, const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        isfinite(values[i]) ? fprintf(out, ",%.6f", values[i]) : fputc(',', out);
}
