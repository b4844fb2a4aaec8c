/* Options that many commands have. */
#ifndef PAWNVANE_COMMON_OPTIONS_H
#define PAWNVANE_COMMON_OPTIONS_H

#include "bench/base/command_line.h"

/* How much is done at a time; `workers` is to be parallel_processors() unless the option is given. */
Option workers_option(int64_t *workers, const char *help);

/* The size of a transposition table in MiB. */
Option table_option(int64_t *table_mib, const char *help);

Option quiet_option(bool *quiet);

/* How a survey is shown, and what part of the input it takes. */
Option json_option(bool *json);
Option csv_option(bool *csv);
Option html_option(const char **path);
Option share_option(const char **share, const char *help);

#endif
