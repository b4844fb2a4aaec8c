/* The report's numbers for programs: results only, no dates, no timings, so that the same results give the
 * same bytes. */
#ifndef PAWNVANE_REPORT_OUTPUT_H
#define PAWNVANE_REPORT_OUTPUT_H

#include "bench/report/report.h"

#include <stdio.h>

/* One object: "finding" (two sentences), "matches" (each with "name", "arm_a", "arm_b", "all", "strata",
 * "heterogeneity", "pairs_needed", and what else there is to it), "trends_per_100_percent",
 * "strict_less_loose", "shared_openings". Runs count from 1. What is infinite or unknown is null. False if
 * memory runs out. */
bool report_write_json(FILE *out, const Report *report);

/* Tables for people: the finding, every match as duel prints it, what was compared. */
void report_write_text(FILE *out, const Report *report);

/* A line a match and stratum below a line of names; stratum "all" sums a match up. */
void report_write_csv(FILE *out, const Report *report);

#endif
