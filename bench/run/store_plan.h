/* The plan of an experiment in the file of a run. */
#ifndef PAWNVANE_STORE_PLAN_H
#define PAWNVANE_STORE_PLAN_H

#include "bench/base/database.h"
#include "bench/run/experiment.h"

/* What stands as the share of a file that merge has made of some of the games only. duel and sweep go on with it
 * as with a run of all. */
extern const char share_partial[];

/* Writes the plan into empty tables. */
bool plan_write(const Database *database, const Experiment *experiment, Share share);

/* If the file is partial: makes it one of the whole experiment, with all openings. Within a transaction, which is
 * to be taken back if the file turns out to hold another plan. */
bool plan_complete(const Database *database, const Experiment *experiment);

/* Whether the file holds the plan that `expected` holds; with `any_share` whatever share of it, and whatever
 * openings. If not, one line names the first difference. */
bool plan_is_the_same(const Database *database, const Database *expected, bool any_share);

#endif
