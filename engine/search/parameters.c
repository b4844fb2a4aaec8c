#include "engine/search/parameters.h"

#include <string.h>

const Parameters default_parameters = {
#define X(name, value, least, greatest) .name = (value),
    PARAMETER_TABLE(X)
#undef X
};

const ParameterInfo parameter_table[PARAMETER_COUNT] = {
#define X(name, value, least, greatest) {#name, value, least, greatest},
    PARAMETER_TABLE(X)
#undef X
};

_Static_assert(sizeof(Parameters) == PARAMETER_COUNT * sizeof(int), "parameters are ints and nothing else");

ParameterError parameter_set(Parameters *parameters, const char *name, int value)
{
    for (int i = 0; i < PARAMETER_COUNT; i++) {
        const ParameterInfo *info = &parameter_table[i];
        if (strcmp(info->name, name) != 0)
            continue;
        if (value < info->least || value > info->greatest)
            return PARAMETER_OUT_OF_RANGE;
        ((int *)parameters)[i] = value;
        return PARAMETER_SET;
    }
    return PARAMETER_UNKNOWN;
}
