#include "structure/skeleton.h"

/* What may be principal: locked chains, or under the loose rule links, seen from their side. */
typedef struct Candidate {
    ps_grade grade;
    Pointer pointer;
} Candidate;

static int find_pointers(Candidate out[PS_MAX_CHAINS], const Bitboard pawns[SIDE_COUNT], Side side,
                         ps_rule rule)
{
    Diagonal diagonals[PS_MAX_CHAINS];
    bool strict = rule == PS_STRICT;
    int count = strict ? ps_find_diagonals(white_rams(pawns[WHITE], pawns[BLACK]), diagonals)
                       : ps_find_links(pawns[side], diagonals);
    for (int i = 0; i < count; i++) {
        ps_grade grade = strict ? ps_grade_of_pairs(files_of_diagonal(diagonals[i])) : PS_FIRM;
        Diagonal own = strict && side == BLACK ? facing_diagonal(diagonals[i]) : diagonals[i];
        out[i] = (Candidate){grade, point(side, own)};
    }
    return count;
}

/* The candidates of the firmest grade; the others can never be principal. Returns how many. */
static int find_candidates(Candidate out[PS_MAX_CHAINS], const Bitboard pawns[SIDE_COUNT], Side side,
                           ps_rule rule)
{
    int found = find_pointers(out, pawns, side, rule), count = 0;
    ps_grade firmest = PS_VOID;
    for (int i = 0; i < found; i++)
        firmest = out[i].grade > firmest ? out[i].grade : firmest;
    for (int i = 0; firmest != PS_VOID && i < found; i++)
        if (out[i].grade == firmest)
            out[count++] = out[i];
    return count;
}

static Path path_to(const Bitboard pawns[SIDE_COUNT], Side side, Square lever)
{
    if (lever == NO_SQUARE)
        return (Path){PATH_GONE, NO_SQUARE};
    return ps_find_path(side, lever, pawns[side], pawns[opposite(side)]);
}

/* Adds the lever on a square to a side's leads, if it is live. */
static ps_lead *add_lead(ps_skeleton *out, Pointer *pointers, const Bitboard pawns[SIDE_COUNT], Side side,
                         Square lever, Pointer pointer)
{
    Path path = path_to(pawns, side, lever);
    if (!path_is_live(path))
        return NULL;
    pointers[out->lead_count[side]] = pointer;
    ps_lead *lead = &out->leads[side][out->lead_count[side]++];
    *lead = (ps_lead){.square = (int8_t)lever, .pawn = (int8_t)path.pawn};
    return lead;
}

static void add_base_levers(ps_skeleton *out, Pointer *pointers, const Bitboard pawns[SIDE_COUNT], Side side,
                            const Candidate *candidates, int count)
{
    out->lever[side] = PS_BASE;
    for (int i = 0; i < count; i++) {
        Pointer pointer = candidates[i].pointer;
        Square lever = base_lever_square(pointer);
        ps_lead *lead = add_lead(out, pointers, pawns, side, lever, pointer);
        if (lead == NULL)
            continue;
        lead->wing = (uint8_t)wing_files(file_of(lever), pointer.direction);
        lead->room =
            (uint8_t)count_room(side, ps_wing_area(side, lead->wing, pointer.head), pawns[opposite(side)]);
    }
}

/* Head levers count where no base lever is live; a chain whose base lever has done its work is principal before
 * one whose base lever is barred or gone. */
static void add_head_levers(ps_skeleton *out, Pointer *pointers, const Bitboard pawns[SIDE_COUNT], Side side,
                            const Candidate *candidates, int count)
{
    bool is_done[PS_MAX_CHAINS], any_done = false;
    for (int i = 0; i < count; i++) {
        is_done[i] = path_is_done(path_to(pawns, side, base_lever_square(candidates[i].pointer)));
        any_done |= is_done[i];
    }
    out->lever[side] = PS_HEAD;
    for (int i = 0; i < count; i++)
        if (is_done[i] == any_done)
            add_lead(out, pointers, pawns, side, head_lever_square(candidates[i].pointer),
                     candidates[i].pointer);
}

static void read_side(ps_skeleton *out, Pointer *pointers, const Bitboard pawns[SIDE_COUNT], Side side)
{
    Candidate candidates[PS_MAX_CHAINS];
    int count = find_candidates(candidates, pawns, side, out->rule);
    if (count == 0)
        return;
    out->grade[side] = (uint8_t)candidates[0].grade;
    add_base_levers(out, pointers, pawns, side, candidates, count);
    if (out->lead_count[side] == 0)
        add_head_levers(out, pointers, pawns, side, candidates, count);
}

void ps_read_leads(ps_skeleton *out, Pointer pointers[SIDE_COUNT][PS_MAX_CHAINS], const uint64_t pawns[2],
                   ps_rule rule)
{
    Bitboard sensible[SIDE_COUNT] = {sensible_pawns(pawns, WHITE), sensible_pawns(pawns, BLACK)};
    *out = (ps_skeleton){.rule = (uint8_t)rule};
    for (Side side = WHITE; side <= BLACK; side++)
        read_side(out, pointers[side], sensible, side);
}

void ps_read_skeleton(ps_skeleton *out, const uint64_t pawns[2], ps_rule rule)
{
    Pointer pointers[SIDE_COUNT][PS_MAX_CHAINS];
    ps_read_leads(out, pointers, pawns, rule);
}
