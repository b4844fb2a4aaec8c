/* Keeping numbers within bounds. */
#ifndef PAWNVANE_CLAMP_H
#define PAWNVANE_CLAMP_H

static inline int at_most(int value, int limit)
{
    return value < limit ? value : limit;
}

static inline int at_least(int value, int limit)
{
    return value > limit ? value : limit;
}

static inline int clamp(int value, int least, int most)
{
    return at_most(at_least(value, least), most);
}

#endif
