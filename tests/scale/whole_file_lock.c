/* flock() as a network file system does it: by a lock on all bytes of the file on the server (flock(2), "NFS
 * details"), which collides with the locks on single bytes that SQLite takes, be they of the same process. To be
 * loaded before the C library; bench/scale/check builds it. */
#include <errno.h>
#include <fcntl.h>
#include <sys/file.h>

int flock(int descriptor, int operation) /* NOLINT(readability-inconsistent-declaration-parameter-name) */
{
    int kind = operation & ~LOCK_NB;
    struct flock all = {.l_type = (short)(kind == LOCK_EX   ? F_WRLCK
                                          : kind == LOCK_SH ? F_RDLCK
                                                            : F_UNLCK),
                        .l_whence = SEEK_SET};
    int result = fcntl(descriptor, operation & LOCK_NB ? F_OFD_SETLK : F_OFD_SETLKW, &all);
    if (result != 0 && errno == EACCES)
        errno = EWOULDBLOCK;
    return result;
}
