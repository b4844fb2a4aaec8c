/* Command lines: one table of options makes what getopt_long() reads and what --help prints.
 *
 *     int64_t depth = 0;
 *     const char *fen = FEN_START;
 *     const Option options[] = {
 *         {.name = "depth", .argument = "N", .help = "plies", .integer = &depth, .least = 1, .greatest = 30,
 *          .required = true},
 *         {.name = "fen", .argument = "FEN", .help = "the position", .text = &fen},
 *         {0},
 *     };
 *     static const Usage usage = {"--depth N [--fen FEN]", "Counts ..."};
 *     Status status;
 *     if (!command_line_read(&usage, options, &argc, &argv, &status))
 *         return status;
 */
#ifndef PAWNVANE_COMMAND_LINE_H
#define PAWNVANE_COMMAND_LINE_H

#include <stdbool.h>
#include <stdint.h>

/* Exit statuses of the program. */
typedef enum Status { STATUS_DONE, STATUS_FAILED, STATUS_MISUSED } Status;

/* The values of an option that may be given several times. */
enum { TEXT_LIST_MAX = 256 };

typedef struct TextList {
    int count;
    const char *items[TEXT_LIST_MAX];
} TextList;

/* What an argument is the name of. What is written must not be anything else of the command line: see
 * file_conflict.h. */
typedef enum FileUse {
    FILE_NONE, /* no file */
    FILE_READ,
    FILE_WRITTEN,
    FILES_JOINED /* for operands: the first is written, the others are read */
} FileUse;

/* One option. Exactly one of the pointers is set; it says what kind of option this is and where the value
 * goes, which keeps its default if the option is not given. A table ends with an option without a name; what
 * stands there of files is said of the operands. */
typedef struct Option {
    const char *name;     /* without the dashes */
    const char *argument; /* what --help calls the value; null for a flag */
    const char *help; /* without the default, which is added to it: what is out of bounds or null is none */
    bool *flag;
    int64_t *integer; /* within least and greatest */
    double *real;     /* within real_least and real_greatest */
    const char **text;
    TextList *list; /* gets each value that is given */
    int *choice;    /* index into choices */
    int64_t least, greatest;
    double real_least, real_greatest;
    const char *const *choices; /* null behind the last */
    bool required;
    FileUse file; /* that `text` names */
} Option;

/* The digits of a number that is a macro, for help that has more to say of a default than its value. */
#define DIGITS_OF(macro) DIGITS_OF_VALUE(macro)
#define DIGITS_OF_VALUE(value) #value

/* What --help says above the options. */
typedef struct Usage {
    const char *arguments; /* behind the command's name */
    const char *text;
} Usage;

/* Reads the arguments behind argv[0] into the options' values and leaves the operands in *argc and *argv.
 * Options and operands may be mixed; -- ends the options. Returns false if the command must not run: *status
 * is then STATUS_DONE after --help, and STATUS_MISUSED after a mistake, about which one line has been
 * written. It is such a mistake, too, to write to a file that is read, or to write two things to one. */
bool command_line_read(const Usage *usage, const Option *options, int *argc, char ***argv, Status *status);

/* Whether an operand ends like that, in capitals or not, and has more than that. */
bool operand_ends(const char *operand, const char *ending);

#endif
