#include "bench/base/output_file.h"
#include "bench/base/complaint.h"

#include <errno.h>
#include <sched.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Those that are being written; what is behind the last place is not known here. */
enum { UNFINISHED_MAX = 16 };
static char *unfinished[UNFINISHED_MAX];

/* Held while files come and go. No signal meets the thread that holds it, so that a handler can wait for it. */
static atomic_flag held = ATOMIC_FLAG_INIT;

static void hold(void)
{
    while (atomic_flag_test_and_set(&held))
        sched_yield();
}

static void hold_without_signals(sigset_t *before)
{
    sigset_t all;
    sigfillset(&all);
    pthread_sigmask(SIG_SETMASK, &all, before);
    hold();
}

static void let_go(const sigset_t *before)
{
    atomic_flag_clear(&held);
    pthread_sigmask(SIG_SETMASK, before, NULL);
}

static void replace(const char *one, char *by)
{
    for (int i = 0; i < UNFINISHED_MAX; i++)
        if (unfinished[i] == one) {
            unfinished[i] = by;
            return;
        }
}

void output_remove_unfinished(void)
{
    hold(); /* for good: no file begins any more */
    for (int i = 0; i < UNFINISHED_MAX; i++)
        if (unfinished[i])
            unlink(unfinished[i]);
}

/* mkstemp(), of whose file a signal knows from the moment that there is one. */
static int make(char *temporary)
{
    sigset_t before;
    hold_without_signals(&before);
    int descriptor = mkstemp(temporary), reason = errno;
    if (descriptor >= 0)
        replace(NULL, temporary);
    let_go(&before);
    errno = reason;
    return descriptor;
}

static void forget(OutputFile *file)
{
    sigset_t before;
    hold_without_signals(&before);
    if (file->temporary)
        replace(file->temporary, NULL);
    let_go(&before);
    free(file->path);
    free(file->temporary);
    *file = (OutputFile){0};
}

/* What a plain open() would have given a new file: mkstemp() is stricter. */
static bool allow_as_usual(int descriptor, const char *path)
{
    struct stat before;
    if (stat(path, &before) == 0)
        return fchmod(descriptor, before.st_mode & 0777) == 0;
    mode_t mask = umask(0);
    umask(mask);
    return fchmod(descriptor, 0666 & ~mask) == 0;
}

/* Says why, by errno, which stays. */
static bool complain_unwritten(const char *path)
{
    int reason = errno;
    complain(path, 0, "cannot be written: %s; what was there is unchanged", strerror(reason));
    errno = reason;
    return false;
}

static bool begin(OutputFile *file, const char *path)
{
    struct stat before;
    *file = (OutputFile){0};
    if (stat(path, &before) == 0 && !S_ISREG(before.st_mode)) {
        errno = S_ISDIR(before.st_mode) ? EISDIR : EINVAL;
        return false;
    }
    file->path = strdup(path);
    if (file->path == NULL || asprintf(&file->temporary, "%s.XXXXXX", path) < 0) {
        file->temporary = NULL;
        forget(file);
        errno = ENOMEM;
        return false;
    }
    int descriptor = make(file->temporary);
    if (descriptor >= 0 && allow_as_usual(descriptor, path))
        file->stream = fdopen(descriptor, "w");
    if (file->stream != NULL)
        return true;
    int reason = errno;
    if (descriptor >= 0) {
        close(descriptor);
        unlink(file->temporary);
    }
    forget(file);
    errno = reason;
    return false;
}

bool output_open(OutputFile *file, const char *path)
{
    return begin(file, path) || complain_unwritten(path);
}

bool output_commit(OutputFile *file)
{
    bool written = fflush(file->stream) == 0 && !ferror(file->stream) && fsync(fileno(file->stream)) == 0;
    int reason = errno;
    if (fclose(file->stream) != 0 && written) {
        written = false;
        reason = errno;
    }
    if (written && rename(file->temporary, file->path) != 0) {
        written = false;
        reason = errno;
    }
    errno = reason;
    if (!written) {
        complain_unwritten(file->path);
        unlink(file->temporary);
    }
    forget(file);
    return written;
}

void output_abandon(OutputFile *file)
{
    if (file->stream == NULL)
        return;
    fclose(file->stream);
    unlink(file->temporary);
    forget(file);
}

bool output_can_be_written(const char *path)
{
    OutputFile file;
    if (!output_open(&file, path))
        return false;
    output_abandon(&file);
    return true;
}
