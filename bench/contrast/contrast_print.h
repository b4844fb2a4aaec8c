/* Results of contrast as tables for people, as JSON lines and as CSV. */
#ifndef PAWNVANE_CONTRAST_PRINT_H
#define PAWNVANE_CONTRAST_PRINT_H

#include "bench/contrast/contrast_summary.h"

#include <stdio.h>

typedef struct ContrastPrinter {
    FILE *out;
    bool timings; /* with milliseconds, which differ from run to run */
} ContrastPrinter;

/* For people: a head, a line for each position, the summary with a sentence for each class. */
void contrast_print_head(const ContrastPrinter *printer, const ContrastPlan *plan);
void contrast_print_row(const ContrastPrinter *printer, const ContrastTask *task,
                        const ContrastResult *result);
void contrast_print_summary(const ContrastPrinter *printer, const ContrastClass classes[CLASS_COUNT]);

/* A JSON object a line: each position, then those that were judged again, then each class. Numbers that are
 * not there are null. False if memory runs out. */
bool contrast_print_json(const ContrastPrinter *printer, const ContrastTask *task,
                         const ContrastResult *result);
bool contrast_print_json_again(const ContrastPrinter *printer, const ContrastTask *task,
                               const ContrastJudgement *again);
bool contrast_print_json_class(const ContrastPrinter *printer, const ContrastClass *class);

/* CSV: a head and a line for each position. */
void contrast_print_csv_head(const ContrastPrinter *printer);
void contrast_print_csv(const ContrastPrinter *printer, const ContrastTask *task,
                        const ContrastResult *result);

#endif
