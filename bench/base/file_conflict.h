/* Finds out, before any work, whether what a command writes would take the place of something else it deals
 * with. */
#ifndef PAWNVANE_FILE_CONFLICT_H
#define PAWNVANE_FILE_CONFLICT_H

#include <stdbool.h>
#include <stddef.h>

/* A file that stands on a command line. */
typedef struct NamedFile {
    const char *option; /* its name without the dashes; null for an operand */
    const char *path;   /* "-" where a file is read is the standard input */
    bool written;       /* perhaps besides being read, as a store is */
} NamedFile;

/* Whether each file that is written is another than all the others, whatever their names and links, and no
 * file is where the standard output goes to. The files that SQLite keeps beside a database ("Temporary Files
 * Used By SQLite", https://www.sqlite.org/tempfiles.html) belong to it. If not, or if
 * memory runs out, that is reported in one line. */
bool files_are_apart(const char *command, const NamedFile *files, size_t count);

#endif
