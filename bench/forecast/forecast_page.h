/* A forecast as a page: first what is meant and what was found, in words and pictures, then the numbers. */
#ifndef PAWNVANE_FORECAST_PAGE_H
#define PAWNVANE_FORECAST_PAGE_H

#include "bench/forecast/forecast_findings.h"

#include <stdio.h>

void forecast_write_page(FILE *out, const ForecastFindings *findings);

#endif
