/* Private to structure/: a skeleton, and the chains that its leads belong to. */
#ifndef PAWNVANE_STRUCTURE_SKELETON_H
#define PAWNVANE_STRUCTURE_SKELETON_H

#include "structure/plan.h"

/* The same as ps_read_skeleton(); `pointers` gets the chain of each lead, or under the loose rule its link. */
void ps_read_leads(ps_skeleton *out, Pointer pointers[SIDE_COUNT][PS_MAX_CHAINS], const uint64_t pawns[2],
                   ps_rule rule);

#endif
