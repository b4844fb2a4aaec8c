#include "bench/base/inputs.h"
#include "bench/base/complaint.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Nothing is opened: a pipe would notice. */
static bool can_be_read(const char *path)
{
    struct stat status;
    if (strcmp(path, "-") == 0)
        return true;
    if (access(path, R_OK) != 0 || stat(path, &status) != 0) {
        complain(path, 0, "cannot be opened: %s; expected a file to read", strerror(errno));
        return false;
    }
    if (S_ISDIR(status.st_mode))
        complain(path, 0, "cannot be opened: %s; expected a file to read", strerror(EISDIR));
    return !S_ISDIR(status.st_mode);
}

int inputs_sift(char **paths, int count)
{
    int good = 0;
    for (int i = 0; i < count; i++) {
        if (can_be_read(paths[i]))
            paths[good++] = paths[i];
    }
    return good;
}

bool inputs_allow_partial(const char *path)
{
    if (path == NULL || access(path, F_OK) != 0)
        return true;
    complain(path, 0, "stays as it is: not all of the input can be read");
    return false;
}
