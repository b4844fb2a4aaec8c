/* The commands of the harness. Each gets its own name in argv[0] and its arguments behind it, and returns the
 * exit status of the program. */
#ifndef PAWNVANE_COMMANDS_H
#define PAWNVANE_COMMANDS_H

#include "bench/base/command_line.h"

Status census_command(int argc, char **argv);
Status chance_command(int argc, char **argv);
Status contrast_command(int argc, char **argv);
Status duel_command(int argc, char **argv);
Status explain_command(int argc, char **argv);
Status find_command(int argc, char **argv);
Status fit_command(int argc, char **argv);
Status forecast_command(int argc, char **argv);
Status handout_command(int argc, char **argv);
Status ladder_command(int argc, char **argv);
Status merge_command(int argc, char **argv);
Status nearer_command(int argc, char **argv);
Status openings_command(int argc, char **argv);
Status perft_command(int argc, char **argv);
Status spar_command(int argc, char **argv);
Status sweep_command(int argc, char **argv);
Status report_command(int argc, char **argv);
Status tune_command(int argc, char **argv);

#endif
