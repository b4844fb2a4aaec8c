/* The options of the UCI protocol by which a program becomes what an arm asks for. */
#ifndef PAWNVANE_ARM_OPTIONS_H
#define PAWNVANE_ARM_OPTIONS_H

#include "bench/play/arm.h"
#include "bench/play/uci_client.h"

/* Whether the program has all options that the arm needs, with their values. If not, one line says so. */
bool arm_options_fit(const UciClient *client, const Arm *arm);

/* Sets what the program has of them: behind arm_options_fit() that is all the arm needs, while what it does not need may
 * be out of the program's bounds. False if the program is at fault. */
bool arm_options_set(UciClient *client, const Arm *arm, int table_mib);

#endif
