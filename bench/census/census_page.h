/* A survey as a page. */
#ifndef PAWNVANE_CENSUS_PAGE_H
#define PAWNVANE_CENSUS_PAGE_H

#include "bench/census/census_totals.h"

#include <stdio.h>

void census_write_page(FILE *out, const CensusTotals *totals);

#endif
