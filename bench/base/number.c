#include "bench/base/number.h"

#include <errno.h>
#include <stdlib.h>

bool read_number(const char *text, int64_t least, int64_t greatest, int64_t *number)
{
    char *end;
    errno = 0;
    long long value = strtoll(text, &end, 10);
    if (errno || end == text || *end || value < least || value > greatest)
        return false;
    *number = value;
    return true;
}
