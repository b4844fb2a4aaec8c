/* One process at a time plays on the file of a run. */
#ifndef PAWNVANE_STORE_LOCK_H
#define PAWNVANE_STORE_LOCK_H

typedef struct StoreLock {
    int descriptor; /* -1: nothing is held */
    char *path;     /* of a file beside the database, its name with "-lock" behind it */
} StoreLock;

/* Locks a file beside the database, for as long as the process lives or until it is let go. It is not the
 * database itself: where flock() is done by a lock on all bytes of the file, as in a network file system, that
 * would shut out SQLite as well, which locks bytes of it. Not held on failure (reported). */
StoreLock store_lock(const char *database);

/* Removes the file and lets go. */
void store_unlock(StoreLock *lock);

#endif
