#include "bench/fit/fit_fold.h"
#include "bench/base/random.h"

#include <stdlib.h>

/* A game as the fingerprint of its positions, in order, and its result. */
typedef struct Print {
    uint64_t print;
    uint32_t game; /* 0 if there is none of that number */
} Print;

typedef struct Place {
    uint64_t key;
    uint32_t game;
} Place;

static int compare_numbers(uint64_t a, uint64_t b)
{
    return (a > b) - (a < b);
}

static int by_print(const void *a, const void *b)
{
    const Print *x = a, *y = b;
    int order = compare_numbers(x->print, y->print);
    return order ? order : compare_numbers(x->game, y->game);
}

static int by_key(const void *a, const void *b)
{
    const Place *x = a, *y = b;
    int order = compare_numbers(x->key, y->key);
    return order ? order : compare_numbers(x->game, y->game);
}

static void mix(uint64_t *print, uint64_t more)
{
    *print ^= more;
    *print = random_split_mix(print);
}

static uint32_t last_game(const FitSample *sample)
{
    uint32_t last = 0;
    for (size_t i = 0; i < sample->count; i++)
        last = sample->positions[i].game > last ? sample->positions[i].game : last;
    return last;
}

/* Both have a place for each number from 0 to the last game; `copy` is false everywhere. */
static void drop_copies(FitSample *sample, Print *prints, bool *copy, size_t games, size_t *copies)
{
    size_t kept = 0;
    for (size_t i = 0; i < sample->count; i++) {
        const FitPosition *p = &sample->positions[i];
        Print *print = &prints[p->game];
        print->game = p->game;
        mix(&print->print, p->position.key);
        mix(&print->print, p->white_points);
    }
    qsort(prints, games, sizeof *prints, by_print);
    *copies = 0;
    for (size_t i = 1; i < games; i++) {
        bool same = prints[i].game > 0 && prints[i - 1].game > 0 && prints[i].print == prints[i - 1].print;
        copy[prints[i].game] |= same;
        *copies += same;
    }
    for (size_t i = 0; i < sample->count; i++)
        if (!copy[sample->positions[i].game])
            sample->positions[kept++] = sample->positions[i];
    sample->count = kept;
}

/* The first game of a family, by the way of those before it; the ways become shorter. */
static uint32_t first_of(uint32_t *before, uint32_t game)
{
    while (before[game] != game)
        game = before[game] = before[before[game]];
    return game;
}

static void join(uint32_t *before, uint32_t a, uint32_t b)
{
    a = first_of(before, a);
    b = first_of(before, b);
    before[a > b ? a : b] = a > b ? b : a;
}

static void find_families(FitSample *sample, Place *places, uint32_t *before, size_t games)
{
    for (uint32_t game = 0; game < games; game++)
        before[game] = game;
    for (size_t i = 0; i < sample->count; i++)
        places[i] = (Place){sample->positions[i].position.key, sample->positions[i].game};
    qsort(places, sample->count, sizeof *places, by_key);
    for (size_t i = 1; i < sample->count; i++)
        if (places[i].key == places[i - 1].key)
            join(before, places[i].game, places[i - 1].game);
    for (size_t i = 0; i < sample->count; i++)
        sample->positions[i].family = first_of(before, sample->positions[i].game);
}

bool fit_fold(FitSample *sample, size_t *copies)
{
    size_t games = (size_t)last_game(sample) + 1;
    Print *prints = calloc(games, sizeof *prints);
    Place *places = malloc((sample->count + 1) * sizeof *places);
    uint32_t *before = malloc(games * sizeof *before);
    bool *copy = calloc(games, sizeof *copy);
    bool good = prints && places && before && copy;
    if (good) {
        drop_copies(sample, prints, copy, games, copies);
        find_families(sample, places, before, games);
    }
    free(prints);
    free(places);
    free(before);
    free(copy);
    return good;
}
