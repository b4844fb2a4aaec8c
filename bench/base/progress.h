/* A line about how far a long run has come: on a terminal only, on the standard error output, so that results
 * on the standard output stay clean. In a pipe nothing is written at all. */
#ifndef PAWNVANE_PROGRESS_H
#define PAWNVANE_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct Progress {
    const char *what; /* what is counted, as in "12 of 40 positions" */
    size_t total;     /* 0: not known */
    bool visible;
    int64_t started_ms, shown_ms;
} Progress;

/* `quiet` hides the line on a terminal, too. `what` must stay. */
void progress_start(Progress *progress, const char *what, size_t total, bool quiet);

/* Shows done of total, rate, time left and a note (may be null), at most a few times a second. */
void progress_show(Progress *progress, size_t done, const char *note);

/* Takes the line away: before anything else is written to the terminal, and at the end. */
void progress_clear(Progress *progress);

#endif
