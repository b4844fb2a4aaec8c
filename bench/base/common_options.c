#include "bench/base/common_options.h"

Option workers_option(int64_t *workers, const char *help)
{
    return (Option){
        .name = "workers", .argument = "K", .help = help, .integer = workers, .least = 1, .greatest = 256};
}

Option table_option(int64_t *table_mib, const char *help)
{
    return (Option){
        .name = "table", .argument = "MIB", .help = help, .integer = table_mib, .least = 1, .greatest = 4096};
}

Option quiet_option(bool *quiet)
{
    return (Option){.name = "quiet", .help = "no progress line", .flag = quiet};
}
