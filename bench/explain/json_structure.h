/* The structure of a position as JSON. */
#ifndef PAWNVANE_JSON_STRUCTURE_H
#define PAWNVANE_JSON_STRUCTURE_H

#include "structure/structure.h"

#include <cjson/cJSON.h>

/* Makes the object that `explain --json` prints, to be freed with cJSON_Delete(); null if memory runs out.
 *
 *     {"fen": the fields as handed over,
 *      "chains": [{"files": "def", "grade": "firm", "white": SIDE, "black": SIDE}],
 *      "plan": {"white": PLAN, "black": PLAN},
 *      "near_misses": ["same_way"],
 *      "first_to_break": "white",
 *      "tension": {"white": ["c5d6"], "black": []},
 *      "breaks": {"white": [BREAK], "black": [BREAK]}}
 *
 *     SIDE   {"toward": "f", "base_lever": LEVER, "head_lever": LEVER}
 *     LEVER  {"square": "f5", "target": "e6", "target_is_base": false, "status": "unsupported",
 *             "pawn": "f2", "steps": 2, "blockers": [], "supporters": 0, "attackers": 1, "tempi": 3}
 *     PLAN   {"verdict": "applies", "files": "de", "region": "kingside", "lever": "f5",
 *             "status": "unsupported", "tempi": 3, "room": 11, "pieces": 3}
 *     BREAK  {"from": "f2", "to": "f4", "targets": ["e5"], "kind": "head", "supporters": 1, "attackers": 1}
 *
 * Where there is no value, and for a lever that does not exist, it is null. */
cJSON *json_structure(const char *fen, const ps_analysis *analysis);

#endif
