#include "bench/census/census_lines.h"

#include <stdlib.h>

/* The place of a line, or the empty one where it belongs. */
static CensusLine *place_of(CensusLine *places, size_t capacity, uint64_t first_moves)
{
    size_t at = (size_t)(first_moves * UINT64_C(0x9e3779b97f4a7c15) >> 32) & (capacity - 1);
    while (places[at].first_moves != 0 && places[at].first_moves != first_moves)
        at = (at + 1) & (capacity - 1);
    return &places[at];
}

/* Keeps at least half of the places empty. */
static bool reserve(CensusLines *lines)
{
    if (2 * lines->count < lines->capacity)
        return true;
    size_t capacity = lines->capacity ? 2 * lines->capacity : 64;
    CensusLine *places = calloc(capacity, sizeof *places);
    if (places == NULL)
        return false;
    for (size_t i = 0; i < lines->capacity; i++)
        if (lines->places[i].first_moves != 0)
            *place_of(places, capacity, lines->places[i].first_moves) = lines->places[i];
    free(lines->places);
    lines->places = places;
    lines->capacity = capacity;
    return true;
}

CensusOpening *census_lines_find(CensusLines *lines, uint64_t first_moves)
{
    if (!reserve(lines))
        return NULL;
    CensusLine *line = place_of(lines->places, lines->capacity, first_moves);
    lines->count += line->first_moves == 0;
    line->first_moves = first_moves;
    return &line->opening;
}

static int by_games(const void *a, const void *b)
{
    const CensusLine *one = a, *other = b;
    if (one->opening.games != other->opening.games)
        return one->opening.games > other->opening.games ? -1 : 1;
    return one->first_moves < other->first_moves ? -1 : one->first_moves > other->first_moves;
}

CensusLine *census_lines_sorted(const CensusLines *lines)
{
    CensusLine *sorted = malloc((lines->count + 1) * sizeof *sorted);
    size_t count = 0;
    for (size_t i = 0; sorted != NULL && i < lines->capacity; i++)
        if (lines->places[i].first_moves != 0)
            sorted[count++] = lines->places[i];
    if (sorted != NULL)
        qsort(sorted, count, sizeof *sorted, by_games);
    return sorted;
}

void census_lines_free(CensusLines *lines)
{
    free(lines->places);
    *lines = (CensusLines){0};
}
