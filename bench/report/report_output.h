/* The report's numbers for programs: results only, no dates, no timings, so that the same results give the
 * same bytes. */
#ifndef PAWNVANE_REPORT_OUTPUT_H
#define PAWNVANE_REPORT_OUTPUT_H

#include "bench/report/report.h"

#include <stdio.h>

/* One object: "finding" (two sentences), "matches" (each with "name", "arm_a", "arm_b", "all", "strata",
 * "heterogeneity", "pairs_needed"). Infinite numbers are null. False if memory runs out. */
bool report_write_json(FILE *out, const Report *report);

/* A line a match and stratum below a line of names; stratum "all" sums a match up. */
void report_write_csv(FILE *out, const Report *report);

#endif
