#include "bench/base/json_line.h"

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
