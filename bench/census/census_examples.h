/* The games behind the numbers of a survey: the first few of each number, for a page. */
#ifndef PAWNVANE_CENSUS_EXAMPLES_H
#define PAWNVANE_CENSUS_EXAMPLES_H

#include "bench/census/census_numbers.h"

enum { CENSUS_EXAMPLES_MAX = 5 };

typedef struct CensusExample {
    const char *file; /* stays with whoever gave it */
    size_t game;
    CensusMoment moment; /* ply 0: there is none to look at */
} CensusExample;

typedef struct CensusExampleSet {
    char *name;   /* of the number; null: an empty place */
    int id;       /* 1, 2, ... in the order in which they came */
    size_t games; /* behind it, of which there are at most CENSUS_EXAMPLES_MAX here */
    int count;
    CensusExample *items;
} CensusExampleSet;

/* A set by name, all zero at first. */
typedef struct CensusExamples {
    int count;
    size_t capacity;
    CensusExampleSet *places;
    bool memory_ran_out;
} CensusExamples;

/* Adds a game, which has moments, to each number in which it counts. False if memory runs out. */
bool census_examples_add(CensusExamples *examples, const char *file, const CensusGame *game);

/* The games behind a number; null if there are none. */
const CensusExampleSet *census_examples_find(const CensusExamples *examples, const char *name);

void census_examples_free(CensusExamples *examples);

#endif
