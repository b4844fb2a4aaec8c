#include "bench/explain/json_structure.h"
#include "structure/bitboard.h"

#include <stdio.h>

static void add_square(cJSON *object, const char *key, int square)
{
    cJSON_AddItemToObject(object, key,
                          square == PS_NO_SQUARE ? cJSON_CreateNull()
                                                 : cJSON_CreateString(ps_square_name(square)));
}

static void add_count(cJSON *object, const char *key, int count)
{
    cJSON_AddItemToObject(object, key, count == PS_NO_COUNT ? cJSON_CreateNull() : cJSON_CreateNumber(count));
}

static void add_squares(cJSON *object, const char *key, const int *squares, int count)
{
    cJSON *array = cJSON_AddArrayToObject(object, key);
    for (int i = 0; i < count; i++)
        cJSON_AddItemToArray(array, cJSON_CreateString(ps_square_name(squares[i])));
}

/* The origin and goal of each capture, as "c5d6". */
static void add_captures(cJSON *object, const char *key, const ps_capture_list *captures)
{
    cJSON *array = cJSON_AddArrayToObject(object, key);
    for (int i = 0; i < captures->count; i++) {
        char text[5];
        snprintf(text, sizeof text, "%s%s", ps_square_name(captures->items[i].from),
                 ps_square_name(captures->items[i].to));
        cJSON_AddItemToArray(array, cJSON_CreateString(text));
    }
}

static cJSON *lever_object(const ps_lever *lever)
{
    if (lever->square == PS_NO_SQUARE)
        return cJSON_CreateNull();
    cJSON *object = cJSON_CreateObject();
    add_square(object, "square", lever->square);
    add_square(object, "target", lever->target);
    cJSON_AddBoolToObject(object, "target_is_base", lever->target_is_base);
    cJSON_AddStringToObject(object, "status", ps_status_name(lever->status));
    add_square(object, "pawn", lever->pawn);
    add_count(object, "steps", lever->steps);
    add_squares(object, "blockers", lever->blockers, lever->blocker_count);
    add_count(object, "supporters", lever->supporters);
    add_count(object, "attackers", lever->attackers);
    add_count(object, "tempi", lever->tempi);
    return object;
}

static cJSON *side_object(const ps_chain_side *side)
{
    cJSON *object = cJSON_CreateObject();
    char file[2] = {(char)('a' + side->toward), '\0'};
    cJSON_AddItemToObject(object, "toward",
                          side->toward == PS_NO_FILE ? cJSON_CreateNull() : cJSON_CreateString(file));
    cJSON_AddItemToObject(object, "base_lever", lever_object(&side->base_lever));
    cJSON_AddItemToObject(object, "head_lever", lever_object(&side->head_lever));
    return object;
}

static cJSON *chain_object(const ps_chain *chain)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "files", ps_files_name(chain->first_file, chain->last_file));
    cJSON_AddStringToObject(object, "grade", ps_grade_name(chain->grade));
    for (int side = PS_WHITE; side <= PS_BLACK; side++)
        cJSON_AddItemToObject(object, ps_side_name(side), side_object(&chain->side[side]));
    return object;
}

static cJSON *plan_object(const ps_analysis *analysis, ps_side side)
{
    static const char *const keys[] = {"files", "region", "lever", "status", "tempi", "room", "pieces"};
    const ps_plan *plan = &analysis->plan[side];
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "verdict", ps_verdict_name(plan->verdict));
    if (plan->verdict == PS_NONE) {
        for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
            cJSON_AddNullToObject(object, keys[i]);
        return object;
    }
    const ps_lever *lever = ps_plan_lever(analysis, side);
    const ps_chain *chain = &analysis->chains[plan->chain];
    cJSON_AddStringToObject(object, "files", ps_files_name(chain->first_file, chain->last_file));
    cJSON_AddStringToObject(object, "region", ps_region_name(plan->region));
    add_square(object, "lever", lever->square);
    cJSON_AddItemToObject(object, "status",
                          lever->square == PS_NO_SQUARE ? cJSON_CreateNull()
                                                        : cJSON_CreateString(ps_status_name(lever->status)));
    add_count(object, "tempi", lever->tempi);
    add_count(object, "room", plan->room);
    add_count(object, "pieces", plan->pieces);
    return object;
}

static cJSON *break_object(const ps_break *push)
{
    cJSON *object = cJSON_CreateObject();
    add_square(object, "from", push->from);
    add_square(object, "to", push->to);
    add_squares(object, "targets", push->targets, push->target_count);
    cJSON_AddStringToObject(object, "kind", ps_break_kind_name(push->kind));
    add_count(object, "supporters", push->supporters);
    add_count(object, "attackers", push->attackers);
    return object;
}

cJSON *json_structure(const char *fen, const ps_analysis *analysis)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "fen", fen);

    cJSON *chains = cJSON_AddArrayToObject(object, "chains");
    for (int i = 0; i < analysis->chain_count; i++)
        cJSON_AddItemToArray(chains, chain_object(&analysis->chains[i]));

    cJSON *plan = cJSON_AddObjectToObject(object, "plan");
    for (int side = PS_WHITE; side <= PS_BLACK; side++)
        cJSON_AddItemToObject(plan, ps_side_name(side), plan_object(analysis, side));

    cJSON *near_misses = cJSON_AddArrayToObject(object, "near_misses");
    for (int i = 0; i < analysis->near_miss_count; i++)
        cJSON_AddItemToArray(near_misses, cJSON_CreateString(ps_near_miss_name(analysis->near_misses[i])));

    cJSON_AddItemToObject(object, "first_to_break",
                          analysis->first_to_break == PS_NOBODY
                              ? cJSON_CreateNull()
                              : cJSON_CreateString(ps_side_name(analysis->first_to_break)));

    cJSON *tension = cJSON_AddObjectToObject(object, "tension");
    for (Side side = WHITE; side <= BLACK; side++)
        add_captures(tension, ps_side_name(side), &analysis->tension[side]);

    cJSON *breaks = cJSON_AddObjectToObject(object, "breaks");
    for (int side = PS_WHITE; side <= PS_BLACK; side++) {
        cJSON *list = cJSON_AddArrayToObject(breaks, ps_side_name(side));
        for (int i = 0; i < analysis->breaks[side].count; i++)
            cJSON_AddItemToArray(list, break_object(&analysis->breaks[side].items[i]));
    }
    return object;
}
