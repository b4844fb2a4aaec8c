/* The one line that says what went wrong. */
#ifndef PAWNVANE_COMPLAINT_H
#define PAWNVANE_COMPLAINT_H

#define PROGRAM_NAME "pawnvane-bench"

/* Writes one line to the standard error output: "pawnvane-bench: FILE:LINE: what is wrong, and what was
 * expected", with ? for control characters. `file` may be null, and `line` 0 where there is none. */
void complain(const char *file, long line, const char *format, ...) __attribute__((format(printf, 3, 4)));

#endif
