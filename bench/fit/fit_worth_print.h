/* What the parts of the lever term are worth, for people and for machines. */
#ifndef PAWNVANE_FIT_WORTH_PRINT_H
#define PAWNVANE_FIT_WORTH_PRINT_H

#include "bench/fit/fit_worth.h"

/* `engine` are the weights as they are, beside which the measured ones stand. */
void fit_worth_print(const FitWorth *worth, const ps_weights *engine, const WorthSettings *settings);
void fit_worth_print_csv(const FitWorth *worth, const ps_weights *engine);

/* One JSON object. False if memory runs out (reported). */
bool fit_worth_print_json(const FitWorth *worth, const ps_weights *engine, const WorthSettings *settings);

#endif
