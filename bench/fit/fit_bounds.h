/* What the lever weights must keep while they are fitted. */
#ifndef PAWNVANE_FIT_BOUNDS_H
#define PAWNVANE_FIT_BOUNDS_H

#include "structure/structure.h"

/* Moves weights to the nearest ones that are sound, as ps_weights_are_sound() would say if it took real
 * numbers: pools neighbours that are out of order (R. Barlow et al., "Statistical Inference under Order
 * Restrictions", 1972; from memory), then moves each within its bounds. Rounded, they are sound too. */
void fit_make_sound(double lever[PS_WEIGHT_COUNT]);

#endif
