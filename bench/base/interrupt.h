/* SIGINT, SIGTERM and SIGHUP: what a command leaves behind when it is told to end.
 *
 * By default the process ends by the signal, and only takes its unfinished output files (output_file.h) away. A
 * command whose work so far is worth keeping catches the first signal, looks for it now and then, and ends in its own
 * time; the second signal ends it at once. A signal that was ignored when the program began stays so (nohup). */
#ifndef PAWNVANE_INTERRUPT_H
#define PAWNVANE_INTERRUPT_H

#include <stdbool.h>

/* Once, at the start of the program, whose arguments must stay. */
void interrupt_prepare(int argc, char **argv);

/* From here to interrupt_release() the first signal is only noted. */
void interrupt_catch(void);
void interrupt_release(void);

/* The signal that was noted, 0 if there was none. Any thread. */
int interrupt_number(void);

/* Says in one line that the program was interrupted, and what that means; with a file that the same command goes on
 * from, the command, ready for a shell. */
void interrupt_complain(const char *file, const char *what, bool goes_on);

/* Ends the process by the signal that was noted, if one was. */
void interrupt_end(void);

#endif
