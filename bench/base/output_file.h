/* A file that replaces another only when it is complete: what stood there before stays until then, whatever
 * goes wrong.
 *
 *     OutputFile file;
 *     if (!output_open(&file, "lesson.html"))
 *         return false; // reported in one line
 *     fputs("...", file.stream);
 *     return output_commit(&file);
 */
#ifndef PAWNVANE_OUTPUT_FILE_H
#define PAWNVANE_OUTPUT_FILE_H

#include <stdbool.h>
#include <stdio.h>

typedef struct OutputFile {
    FILE *stream; /* to write to */
    char *path;
    char *temporary; /* where it is written until it is complete, beside `path` */
} OutputFile;

/* Begins a file. False if none can be made there, about which one line has been written, and errno is set;
 * nothing then needs to be closed. */
bool output_open(OutputFile *file, const char *path);

/* Puts the complete file in its place. False if anything could not be written, about which one line has been
 * written, and errno is set: then nothing has changed at `path`. The file is closed either way. */
bool output_commit(OutputFile *file);

/* Gives the file up. What stands at `path` stays. */
void output_abandon(OutputFile *file);

/* Whether a file could be begun there, which is better said before the work than after it. False as for output_open(). */
bool output_can_be_written(const char *path);

/* Takes away what is being written and not complete. Once, when the process is about to end, for other threads then wait
 * where they would begin or end a file; safe in a handler of signals. */
void output_remove_unfinished(void);

#endif
