#include "structure/mix.h"
#include "structure/skeleton.h"
#include "structure/term.h"

/* How far a plan has been carried out. */
typedef enum Stage { STAGE_LOST, STAGE_LIVE, STAGE_PLAYED, STAGE_DONE } Stage;

/* By what stands on the lever's file, and whether the pawn that the lever was to attack has left its square. A
 * lever pawn that has gone past with the target in place has been played and no more. */
static const Stage stages[][2] = {
    [PATH_PLAYED] = {STAGE_PLAYED, STAGE_DONE}, [PATH_LIVE] = {STAGE_LIVE, STAGE_LOST},
    [PATH_BEYOND] = {STAGE_PLAYED, STAGE_DONE}, [PATH_CLEARED] = {STAGE_DONE, STAGE_DONE},
    [PATH_BARRED] = {STAGE_LOST, STAGE_LOST},   [PATH_GONE] = {STAGE_LOST, STAGE_DONE},
};

/* The square in front of the own pawn that the lever comes to stand beside. */
static Square target_square(Side side, ps_break_kind lever, Pointer pointer)
{
    Square beside_lever = lever == PS_BASE ? pointer.head : pointer.base;
    return side == WHITE ? beside_lever + 8 : beside_lever - 8;
}

static ps_intent_lever intend_lead(const ps_skeleton *skeleton, const ps_lead *lead, Pointer pointer,
                                   Side side, Bitboard enemy_pawns)
{
    Square target = target_square(side, skeleton->lever[side], pointer);
    bool there = (enemy_pawns & bit(target)) != 0; /* always, but under the loose rule */
    return (ps_intent_lever){
        .square = lead->square,
        .target = (int8_t)(there ? target : NO_SQUARE),
        .area = lead->wing == 0 ? 0 : ps_wing_area(side, lead->wing, pointer.head),
        .wing = lead->wing,
    };
}

void ps_intend(ps_intent *out, const ps_board *board, ps_rule rule, const ps_weights *weights)
{
    ps_skeleton skeleton;
    Pointer pointers[SIDE_COUNT][PS_MAX_CHAINS];
    ps_read_leads(&skeleton, pointers, board->pawns, rule);
    *out = (ps_intent){.count = {0, 0}};
    for (Side side = WHITE; side <= BLACK; side++) {
        unsigned leads;
        ps_score_side(&skeleton, board, weights, side, &leads);
        out->kind[side] = skeleton.lever[side];
        out->grade[side] = skeleton.grade[side];
        for (int i = 0; i < skeleton.lead_count[side]; i++)
            if ((leads >> i & 1) != 0)
                out->levers[side][out->count[side]++] =
                    intend_lead(&skeleton, &skeleton.leads[side][i], pointers[side][i], side,
                                sensible_pawns(board->pawns, opposite(side)));
    }
}

uint64_t ps_intent_key(const ps_intent *intent)
{
    uint64_t key = 0;
    for (Side side = WHITE; side <= BLACK; side++)
        for (int i = 0; i < intent->count[side]; i++) {
            const ps_intent_lever *lever = &intent->levers[side][i];
            uint64_t packed = (uint64_t)lever->square | (uint64_t)(lever->target + 1) << 6 |
                              (uint64_t)lever->wing << 19 | (uint64_t)intent->kind[side] << 27 |
                              (uint64_t)intent->grade[side] << 28 | (uint64_t)side << 30 | UINT64_C(1) << 31;
            key = mix_bits(mix_bits(key ^ packed) ^ lever->area);
        }
    return key;
}

/* What a lever in hand scores; false if it can no longer be played, and has not been. */
static bool score_lever(ps_side_term *out, const ps_intent *intent, const ps_intent_lever *lever,
                        const ps_board *board, const ps_weights *weights, Side side)
{
    Bitboard own = sensible_pawns(board->pawns, side), enemy = sensible_pawns(board->pawns, opposite(side));
    Path path = ps_find_path(side, (Square)lever->square, own, enemy);
    bool target_left = lever->target != NO_SQUARE && (enemy & bit(lever->target)) == 0;
    Stage stage = stages[path.state][target_left];
    if (stage == STAGE_LOST)
        return false;
    Stake stake = {
        .lead = {.square = lever->square, .pawn = lever->square, .wing = lever->wing},
        .lever = intent->kind[side],
        .grade = intent->grade[side],
    };
    stake.lead.room = (uint8_t)count_room(side, lever->area, enemy);
    if (stage == STAGE_DONE) {
        *out = ps_score_done(&stake, board, weights, side);
        return true;
    }
    int blocked = 0;
    if (stage == STAGE_LIVE) {
        stake.lead.pawn = (int8_t)path.pawn;
        blocked = ps_count_blocked_steps(board, side, &stake.lead);
    }
    *out = ps_score_live(&stake, board, weights, side, blocked);
    return true;
}

/* The best of what a side has in hand; what the position says if nothing is left of it. */
static ps_side_term score_side(const ps_intent *intent, const ps_skeleton *skeleton, const ps_board *board,
                               const ps_weights *weights, Side side)
{
    ps_side_term best = no_side_term, term;
    for (int i = 0; i < intent->count[side]; i++)
        if (score_lever(&term, intent, &intent->levers[side][i], board, weights, side) &&
            (best.square == PS_NO_SQUARE || ps_compare_scores(&term, &best) > 0))
            best = term;
    unsigned leads;
    return best.square != PS_NO_SQUARE ? best : ps_score_side(skeleton, board, weights, side, &leads);
}

int ps_intent_parts(ps_side_term out[2], const ps_intent *intent, const ps_skeleton *skeleton,
                    const ps_board *board, const ps_weights *weights)
{
    for (Side side = WHITE; side <= BLACK; side++)
        out[side] = score_side(intent, skeleton, board, weights, side);
    return ps_sum_sides(out, board->to_move);
}

int ps_intent_term(const ps_intent *intent, const ps_skeleton *skeleton, const ps_board *board,
                   const ps_weights *weights)
{
    if (ps_is_silent(skeleton) && !ps_has_intent(intent))
        return 0;
    ps_side_term sides[SIDE_COUNT];
    return ps_intent_parts(sides, intent, skeleton, board, weights);
}
