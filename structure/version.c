#include "structure/structure.h"

const char *ps_version(void)
{
    return PS_VERSION;
}
