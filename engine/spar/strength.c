#include "engine/spar/strength.h"

#include "engine/evaluation/clamp.h"
#include "engine/evaluation/structure_view.h"
#include "engine/spar/plan_effect.h"

/* From STRENGTH_LEAST on, in steps of STRENGTH_STEP. Found by games: pawnvane-bench ladder. */
static const Strength levels[] = {
    {350, 73, 210}, {505, 61, 176}, {840, 44, 131}, {1400, 28, 90},
    {2290, 15, 60}, {3750, 6, 25},  {6850, 1, 10},  {12800, 0, 0},
};

_Static_assert(sizeof levels / sizeof *levels == (STRENGTH_MOST - STRENGTH_LEAST) / STRENGTH_STEP + 1,
               "a level for each step");

static int in_step(int low, int high, int part)
{
    return low + (high - low) * part / STRENGTH_STEP;
}

Strength strength_of(int elo)
{
    int above = clamp(elo, STRENGTH_LEAST, STRENGTH_MOST) - STRENGTH_LEAST;
    int part = above % STRENGTH_STEP;
    const Strength *low = &levels[above / STRENGTH_STEP], *high = part ? low + 1 : low;
    return (Strength){in_step(low->nodes, high->nodes, part), in_step(low->error, high->error, part),
                      in_step(low->misses, high->misses, part)};
}

bool strength_misses(const Strength *strength, uint64_t seed, const Position *position)
{
    enum { OF = 1000, SHIFT = 40 /* other bits than the error of the judgement has */ };
    return (int)((misjudgement_bits(seed, position) >> SHIFT) % OF) < strength->misses;
}

void strength_leave_out_breaks(const Position *position, MoveList *moves)
{
    ps_analysis analysis;
    MoveList kept = {.count = 0};
    structure_analyse(position, &analysis);
    for (int i = 0; i < moves->count; i++)
        if (!plan_break(&analysis, position_turn(position), moves->moves[i]))
            kept.moves[kept.count++] = moves->moves[i];
    if (kept.count > 0)
        *moves = kept;
}
