/* A clock that only goes forward, to measure how long something takes. */
#ifndef PAWNVANE_MONOTONIC_H
#define PAWNVANE_MONOTONIC_H

#include <stdint.h>
#include <time.h>

static inline int64_t monotonic_us(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static inline int64_t monotonic_ms(void)
{
    return monotonic_us() / 1000;
}

static inline double monotonic_seconds(void)
{
    return (double)monotonic_us() * 1e-6;
}

#endif
