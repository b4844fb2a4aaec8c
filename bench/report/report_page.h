/* The report as a page: finding first, then figures with their numbers, then positions. */
#ifndef PAWNVANE_REPORT_PAGE_H
#define PAWNVANE_REPORT_PAGE_H

#include "bench/report/report.h"

#include <stdio.h>

void report_write_page(FILE *out, const Report *report, const char *title);

#endif
