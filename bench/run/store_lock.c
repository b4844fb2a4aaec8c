#include "bench/run/store_lock.h"
#include "bench/base/complaint.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

/* Whether the open file is still the one of that name: who held it before has removed it meanwhile. */
static bool is_there(int descriptor, const char *path)
{
    struct stat mine, there;
    return fstat(descriptor, &mine) == 0 && stat(path, &there) == 0 && mine.st_dev == there.st_dev &&
           mine.st_ino == there.st_ino;
}

static void complain_of_lock(const char *database)
{
    if (errno == EWOULDBLOCK)
        complain(database, 0, "another process is playing on it; expected to be alone");
    else
        complain(database, 0, "cannot be locked: %s; expected a file system with locks", strerror(errno));
}

/* -1 on failure. */
static int take(const char *path, const char *database)
{
    for (;;) {
        int descriptor = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0666);
        if (descriptor < 0) {
            complain(database, 0, "cannot be written: %s; expected a place for the file of a run",
                     strerror(errno));
            return -1;
        }
        if (flock(descriptor, LOCK_EX | LOCK_NB) != 0) {
            complain_of_lock(database);
            close(descriptor);
            return -1;
        }
        if (is_there(descriptor, path))
            return descriptor;
        close(descriptor);
    }
}

StoreLock store_lock(const char *database)
{
    StoreLock lock = {.descriptor = -1};
    if (asprintf(&lock.path, "%s-lock", database) < 0) {
        complain(NULL, 0, "memory ran out");
        lock.path = NULL;
        return lock;
    }
    lock.descriptor = take(lock.path, database);
    return lock;
}

void store_unlock(StoreLock *lock)
{
    if (lock->descriptor >= 0) {
        unlink(lock->path);
        close(lock->descriptor);
    }
    free(lock->path);
    *lock = (StoreLock){.descriptor = -1};
}
