/* The plan of an experiment in the file of a run. */
#ifndef PAWNVANE_STORE_PLAN_H
#define PAWNVANE_STORE_PLAN_H

#include "bench/base/database.h"
#include "bench/run/experiment.h"

/* Writes the plan into empty tables. */
bool plan_write(const Database *database, const Experiment *experiment, Share share);

/* Whether the file holds the plan that `expected` holds; with `any_share` whatever share of it. If not, one
 * line names the first difference. */
bool plan_is_the_same(const Database *database, const Database *expected, bool any_share);

#endif
