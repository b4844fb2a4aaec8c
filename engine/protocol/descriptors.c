#include "engine/protocol/descriptors.h"

#include <fcntl.h>
#include <unistd.h>

bool descriptors_hold(void)
{
    static const int wrong_way[] = {
        [STDIN_FILENO] = O_WRONLY, [STDOUT_FILENO] = O_RDONLY, [STDERR_FILENO] = O_RDONLY};
    for (int descriptor = STDIN_FILENO; descriptor <= STDERR_FILENO; descriptor++) {
        /* open() returns the lowest number that is free: this one, as those below are taken by now. */
        if (fcntl(descriptor, F_GETFD) < 0 && open("/dev/null", wrong_way[descriptor]) != descriptor)
            return false;
    }
    return true;
}
