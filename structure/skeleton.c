#include "structure/plan.h"

/* One linked pair of a side as the term sees it. */
typedef struct Candidate {
    ps_grade grade;
    Pointer pointer;
} Candidate;

/* The pairs of the firmest grade; the others can never be principal. Returns how many. */
static int find_candidates(Candidate out[PS_MAX_PAIRS], const Bitboard pawns[SIDE_COUNT], Side side,
                           ps_rule rule)
{
    Link links[PS_MAX_PAIRS];
    bool strict = rule == PS_STRICT;
    int found = ps_find_links(strict ? white_rams(pawns[WHITE], pawns[BLACK]) : pawns[side], links);
    ps_grade firmest = PS_VOID;
    int count = 0;
    for (int i = 0; i < found; i++) {
        ps_grade grade = strict ? ps_grade_of_files((int)file_of(links[i].west)) : PS_FIRM;
        if (grade == PS_VOID || grade < firmest)
            continue;
        if (grade > firmest)
            count = 0;
        firmest = grade;
        Link own = strict && side == BLACK ? facing_link(links[i]) : links[i];
        out[count++] = (Candidate){grade, point(side, own)};
    }
    return count;
}

/* Adds the lever on a square to a side's leads, if it is live or played. */
static ps_lead *add_lead(ps_skeleton *out, const Bitboard pawns[SIDE_COUNT], Side side, Square lever)
{
    if (lever == NO_SQUARE)
        return NULL;
    Path path = ps_find_path(side, lever, pawns[side], pawns[opposite(side)]);
    if (!path_is_available(path))
        return NULL;
    ps_lead *lead = &out->leads[side][out->lead_count[side]++];
    *lead = (ps_lead){.square = (int8_t)lever, .pawn = (int8_t)path.pawn};
    return lead;
}

static void read_side(ps_skeleton *out, const Bitboard pawns[SIDE_COUNT], Side side)
{
    Candidate candidates[PS_MAX_PAIRS];
    int count = find_candidates(candidates, pawns, side, (ps_rule)out->rule);
    if (count == 0)
        return;
    out->grade[side] = (uint8_t)candidates[0].grade;
    out->lever[side] = PS_BASE;
    for (int i = 0; i < count; i++) {
        Pointer pointer = candidates[i].pointer;
        Square lever = base_lever_square(pointer);
        ps_lead *lead = add_lead(out, pawns, side, lever);
        if (lead == NULL)
            continue;
        lead->wing = (uint8_t)wing_files((int)file_of(lever), pointer.direction);
        lead->room = (uint8_t)ps_count_room(side, lead->wing, pointer.head, pawns[opposite(side)]);
    }
    if (out->lead_count[side] > 0)
        return;
    out->lever[side] = PS_HEAD;
    for (int i = 0; i < count; i++)
        add_lead(out, pawns, side, head_lever_square(candidates[i].pointer));
}

void ps_read_skeleton(ps_skeleton *out, const uint64_t pawns[2], ps_rule rule)
{
    Bitboard sensible[SIDE_COUNT] = {sensible_pawns(pawns, WHITE), sensible_pawns(pawns, BLACK)};
    *out = (ps_skeleton){.rule = (uint8_t)rule};
    for (int side = WHITE; side <= BLACK; side++)
        read_side(out, sensible, (Side)side);
}
