#include "bench/base/commands.h"
#include "bench/base/complaint.h"
#include "bench/base/interrupt.h"
#include "bench/base/nearest.h"
#include "engine/protocol/descriptors.h"
#include "engine/protocol/version.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

typedef struct Command {
    const char *name;
    Status (*run)(int argc, char **argv);
    const char *summary;
} Command;

static const Command commands[] = {
    {"census", census_command, "count locked chains and levers in collections of games"},
    {"chance", chance_command, "fit the chance that a move raises alpha, which rules the search"},
    {"contrast", contrast_command, "search positions with the lever term and without it"},
    {"duel", duel_command, "play two ways to evaluate against each other, in pairs of games"},
    {"explain", explain_command, "say what is locked in a position and where it points"},
    {"find", find_command, "find moments in games by what their structure says"},
    {"fit", fit_command, "fit the weights of the evaluation to results of games"},
    {"forecast", forecast_command, "ask games whether the direction foretold where the levers came"},
    {"handout", handout_command, "write a lesson sheet to print"},
    {"ladder", ladder_command, "calibrate the strengths that a rating limits the engine to"},
    {"merge", merge_command, "join the parts of an experiment played in shares"},
    {"nearer", nearer_command, "ask which of two searches comes nearer to a deep one"},
    {"openings", openings_command, "grow start positions for duels and sweeps"},
    {"perft", perft_command, "count the leaves of the tree of legal moves"},
    {"report", report_command, "report what runs and contrasts have shown"},
    {"spar", spar_command, "a training match in the terminal against a partner with a style"},
    {"sweep", sweep_command, "play many weights of the lever term against none"},
    {"tune", tune_command, "tune parameters of the search together by games"},
};

enum { COMMAND_COUNT = sizeof commands / sizeof *commands };

static void print_help(void)
{
    puts("Usage: " PROGRAM_NAME " COMMAND [ARGUMENT]...\n"
         "\n"
         "Measures what the direction of locked pawn chains is worth, and prints what it says.\n"
         "\n"
         "Commands:");
    for (int i = 0; i < COMMAND_COUNT; i++)
        printf("  %-10s %s\n", commands[i].name, commands[i].summary);
    puts("\n"
         "  COMMAND --help   the command's options\n"
         "  --version        the version\n"
         "\n"
         "Exit status: 0 done, 1 failed, 2 misused.\n"
         "Not for use during a game against people: that would be help that the Laws of Chess forbid.");
}

static Status run_command(int argc, char **argv)
{
    for (int i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(argv[0], commands[i].name) == 0)
            return commands[i].run(argc, argv);
    }
    const char *names[COMMAND_COUNT];
    for (int i = 0; i < COMMAND_COUNT; i++)
        names[i] = commands[i].name;
    int nearest = nearest_word(argv[0], names, COMMAND_COUNT);
    if (nearest >= 0)
        complain(NULL, 0, "there is no command \"%s\"; did you mean \"%s\"?", argv[0], names[nearest]);
    else
        complain(NULL, 0, "there is no command \"%s\"; expected one that \"" PROGRAM_NAME " --help\" lists",
                 argv[0]);
    return STATUS_MISUSED;
}

int main(int argc, char **argv)
{
    Status status = STATUS_DONE;
    if (!descriptors_hold()) {
        complain("/dev/null", 0, "cannot be opened: %s", strerror(errno));
        return STATUS_FAILED;
    }
    interrupt_prepare(argc, argv);
    if (argc < 2) {
        complain(NULL, 0, "no command; expected one that \"" PROGRAM_NAME " --help\" lists");
        return STATUS_MISUSED;
    }
    if (strcmp(argv[1], "--help") == 0)
        print_help();
    else if (strcmp(argv[1], "--version") == 0)
        puts(PROGRAM_NAME " " PAWNVANE_VERSION);
    else
        status = run_command(argc - 1, argv + 1);
    /* Output that did not arrive is a failure, too. */
    bool broken = ferror(stdout) != 0;
    errno = 0;
    if (fclose(stdout) != 0 || broken) {
        complain("standard output", 0, "cannot be written%s%s", errno ? ": " : "",
                 errno ? strerror(errno) : "");
        return STATUS_FAILED;
    }
    interrupt_end();
    return (int)status;
}
