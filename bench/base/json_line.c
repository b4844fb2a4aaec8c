#include "bench/base/json_line.h"

#include <math.h>

bool json_print_line(FILE *out, cJSON *object)
{
    char *text = object ? cJSON_PrintUnformatted(object) : NULL;
    cJSON_Delete(object);
    if (!text)
        return false;
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return true;
}

void json_add_real(cJSON *object, const char *name, double value)
{
    if (isfinite(value))
        cJSON_AddNumberToObject(object, name, round(value * 1e6) / 1e6);
    else
        cJSON_AddNullToObject(object, name);
}
