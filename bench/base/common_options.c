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

Option json_option(bool *json)
{
    return (Option){.name = "json", .help = "print one JSON object", .flag = json};
}

Option csv_option(bool *csv)
{
    return (Option){.name = "csv", .help = "print the tables as comma-separated values", .flag = csv};
}

Option html_option(const char **path)
{
    return (Option){
        .name = "html", .argument = "OUT", .help = "write a page", .text = path, .file = FILE_WRITTEN};
}

Option share_option(const char **share, const char *help)
{
    return (Option){.name = "share", .argument = "K/N", .help = help, .text = share};
}

Option quiet_option(bool *quiet)
{
    return (Option){.name = "quiet", .help = "no progress line", .flag = quiet};
}
