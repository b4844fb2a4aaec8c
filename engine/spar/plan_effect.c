#include "engine/spar/plan_effect.h"

#include "engine/evaluation/clamp.h"
#include "engine/evaluation/structure_view.h"

#include <string.h>

const ps_lever *plan_live_lever(const ps_analysis *analysis, Side side)
{
    const ps_lever *lever = ps_plan_lever(analysis, (ps_side)side);
    return lever && lever->square != PS_NO_SQUARE && ps_lever_is_live(lever) ? lever : NULL;
}

/* What has become of a lever: that of the same square, or else the one of the plan, for the chain may have moved on. Null
 * if it cannot be played any more. */
static const ps_lever *lever_after(const ps_analysis *after, Side side, const ps_lever *before)
{
    for (int i = 0; i < after->chain_count; i++) {
        const ps_lever *lever = &after->chains[i].side[side].base_lever;
        if (lever->square == before->square && ps_lever_is_live(lever))
            return lever;
    }
    return plan_live_lever(after, side);
}

static int surplus(const ps_lever *lever, int most)
{
    return at_most(lever->supporters - lever->attackers, most);
}

static void count_own(const ps_analysis *after, Side us, const ps_lever *before, Move move, int effects[])
{
    const ps_lever *lever = lever_after(after, us, before);
    bool was_played = before->status == PS_PLAYED;
    effects[EFFECT_PLAYS] = !was_played && move_from(move) == before->pawn && move_to(move) == before->square;
    effects[EFFECT_TAKES] =
        was_played && move_from(move) == before->square && move_to(move) == before->target;
    if (was_played || effects[EFFECT_PLAYS])
        return;
    effects[EFFECT_GIVES_UP] = !lever;
    if (!lever)
        return;
    effects[EFFECT_NEARER] = before->tempi - lever->tempi;
    effects[EFFECT_SUPPORTS] = surplus(lever, 1) - surplus(before, 1);
}

static void count_other(const ps_analysis *after, Side them, const ps_lever *before, int effects[])
{
    enum { MEN_MOST = 15 };
    const ps_lever *lever = lever_after(after, them, before);
    if (before->status == PS_PLAYED)
        return;
    effects[EFFECT_SHUTS] = !lever;
    if (!lever)
        return;
    effects[EFFECT_HINDERS] = lever->tempi - before->tempi;
    effects[EFFECT_CONTESTS] = surplus(before, MEN_MOST) - surplus(lever, MEN_MOST);
}

const ps_break *plan_break(const ps_analysis *analysis, Side side, Move move)
{
    const ps_break_list *list = &analysis->breaks[side];
    for (int i = 0; i < list->count; i++)
        if (list->items[i].from == move_from(move) && list->items[i].to == move_to(move))
            return &list->items[i];
    return NULL;
}

static bool is_astray(const ps_analysis *analysis, Side us, Move move)
{
    ps_region named = analysis->plan[us].region;
    int file = file_of(move_to(move));
    ps_region region = file <= FILE_C ? PS_QUEENSIDE : file >= FILE_F ? PS_KINGSIDE : PS_CENTRE;
    return named != PS_CENTRE && region != PS_CENTRE && region != named;
}

static bool releases(const ps_analysis *analysis, Side us, Move move)
{
    const ps_capture_list *list = &analysis->tension[us];
    for (int i = 0; i < list->count; i++)
        if (list->items[i].from == move_from(move) && list->items[i].to == move_to(move))
            return true;
    return false;
}

void plan_effects(const Position *position, const ps_analysis *analysis, Move move,
                  int effects[PLAN_EFFECT_COUNT])
{
    Side us = position_turn(position);
    const ps_lever *own = plan_live_lever(analysis, us), *other = plan_live_lever(analysis, opposite(us));
    const ps_break *push = plan_break(analysis, us, move);
    Position next = *position;
    ps_analysis after;
    position_play(&next, move);
    structure_analyse(&next, &after);
    memset(effects, 0, PLAN_EFFECT_COUNT * sizeof *effects);
    if (own)
        count_own(&after, us, own, move, effects);
    if (other)
        count_other(&after, opposite(us), other, effects);
    effects[EFFECT_HEAD] = push && push->kind == PS_HEAD;
    effects[EFFECT_ASTRAY] = push && push->kind == PS_OTHER && own && is_astray(analysis, us, move);
    effects[EFFECT_RELEASES] = releases(analysis, us, move);
}
