#include "bench/census/census_examples.h"
#include "bench/base/byte_hash.h"

#include <stdlib.h>
#include <string.h>

/* The place of a set, or the empty one where it belongs. */
static CensusExampleSet *place_of(CensusExampleSet *places, size_t capacity, const char *name)
{
    size_t at = (size_t)byte_hash(BYTE_HASH_START, name, strlen(name)) & (capacity - 1);
    while (places[at].name != NULL && strcmp(places[at].name, name) != 0)
        at = (at + 1) & (capacity - 1);
    return &places[at];
}

/* Keeps at least half of the places empty. */
static bool reserve(CensusExamples *examples)
{
    if (2 * (size_t)examples->count < examples->capacity)
        return true;
    size_t capacity = examples->capacity ? 2 * examples->capacity : 256;
    CensusExampleSet *places = calloc(capacity, sizeof *places);
    if (places == NULL)
        return false;
    for (size_t i = 0; i < examples->capacity; i++)
        if (examples->places[i].name != NULL)
            *place_of(places, capacity, examples->places[i].name) = examples->places[i];
    free(examples->places);
    examples->places = places;
    examples->capacity = capacity;
    return true;
}

static bool make_set(CensusExamples *examples, CensusExampleSet *set, const char *name)
{
    *set = (CensusExampleSet){.name = strdup(name), .items = calloc(CENSUS_EXAMPLES_MAX, sizeof *set->items)};
    if (set->name == NULL || set->items == NULL) {
        free(set->name);
        free(set->items);
        *set = (CensusExampleSet){0};
        return false;
    }
    set->id = ++examples->count;
    return true;
}

typedef struct Adding {
    CensusExamples *examples;
    const char *file;
} Adding;

static void add(void *context, const char *name, const CensusGame *game, int moment)
{
    const Adding *adding = context;
    CensusExamples *examples = adding->examples;
    CensusExampleSet *set = reserve(examples) ? place_of(examples->places, examples->capacity, name) : NULL;
    if (set == NULL || (set->name == NULL && !make_set(examples, set, name))) {
        examples->memory_ran_out = true;
        return;
    }
    set->games++;
    if (set->count == CENSUS_EXAMPLES_MAX)
        return;
    CensusExample *example = &set->items[set->count++];
    *example = (CensusExample){.file = adding->file, .game = game->number};
    if (moment >= 0)
        example->moment = game->moments[moment];
}

bool census_examples_add(CensusExamples *examples, const char *file, const CensusGame *game)
{
    census_numbers(game, add, &(Adding){examples, file});
    return !examples->memory_ran_out;
}

const CensusExampleSet *census_examples_find(const CensusExamples *examples, const char *name)
{
    if (examples->capacity == 0)
        return NULL;
    const CensusExampleSet *set = place_of(examples->places, examples->capacity, name);
    return set->name != NULL ? set : NULL;
}

void census_examples_free(CensusExamples *examples)
{
    for (size_t i = 0; i < examples->capacity; i++) {
        free(examples->places[i].name);
        free(examples->places[i].items);
    }
    free(examples->places);
    *examples = (CensusExamples){0};
}
