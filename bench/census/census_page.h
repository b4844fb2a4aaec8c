/* A survey as a page. */
#ifndef PAWNVANE_CENSUS_PAGE_H
#define PAWNVANE_CENSUS_PAGE_H

#include "bench/census/census_examples.h"
#include "bench/census/census_totals.h"

#include <stdio.h>

/* Every number leads to the examples of it. False if memory runs out. */
bool census_write_page(FILE *out, const CensusTotals *totals, const CensusExamples *examples);

#endif
