#include "engine/spar/sparring.h"

#include "engine/evaluation/clamp.h"
#include "engine/evaluation/structure_view.h"

/* Collects the lines on their way to a listener, so that they can be told anew in another order. */
typedef struct Lines {
    const SearchListener *listener;
    int count;
    SearchLine list[MOVES_MAX];
} Lines;

static void take_line(void *context, const Position *root, const SearchLine *line)
{
    Lines *lines = context;
    if (line->bound == BOUND_EXACT || line->depth == 0) {
        lines->list[line->rank - 1] = *line;
        lines->count = at_least(lines->count, line->rank);
    }
    lines->listener->line(lines->listener->context, root, line);
}

static void take_step(void *context, const Position *root, const SearchStep *step)
{
    const Lines *lines = context;
    if (lines->listener->step)
        lines->listener->step(lines->listener->context, root, step);
}

/* The chosen line first, then the others as they stood. */
static void tell_anew(const Lines *lines, const Position *root, const SearchLine *chosen)
{
    SearchLine line = *chosen;
    int rank = 1, count = lines->count;
    line.rank = rank++;
    lines->listener->line(lines->listener->context, root, &line);
    for (int i = 0; i < lines->count && rank <= count; i++) {
        line = lines->list[i];
        if (line.moves[0] == chosen->moves[0])
            continue;
        line.rank = rank++;
        lines->listener->line(lines->listener->context, root, &line);
    }
}

/* Without a plan to treat there is nothing to prefer. */
static bool style_has_a_say(SparStyle style, const ps_analysis *analysis, Side us)
{
    if (style == SPAR_PATIENT)
        return plan_live_lever(analysis, opposite(us)) || analysis->tension[us].count > 0;
    return style != SPAR_OBJECTIVE && plan_live_lever(analysis, us);
}

/* False if all moves are alike to the style. */
static bool prefer(const Sparring *sparring, const Position *root, const ps_analysis *analysis,
                   MovePreference *preference)
{
    bool differ = false;
    preference->margin = sparring->margin;
    preference->whole_gain = SPAR_WHOLE_GAIN;
    movegen_all(root, &preference->moves);
    for (int i = 0; i < preference->moves.count; i++) {
        int effects[PLAN_EFFECT_COUNT];
        plan_effects(root, analysis, preference->moves.moves[i], effects);
        preference->values[i] = spar_style_value(sparring->style, effects);
        differ |= preference->values[i] != preference->values[0];
    }
    return differ;
}

static uint64_t seed_of(const Sparring *sparring, const Game *game)
{
    return sparring->seed * UINT64_C(0x9e3779b97f4a7c15) ^ game->keys[0] ^
           (uint64_t)position_turn(&game->position);
}

/* Lowers the limits to what the strength allows; `seen` is where the moves are listed that it sees. */
static void weaken(Player *player, const Sparring *sparring, const Game *game, SearchLimits *limits,
                   MoveList *seen)
{
    Misjudgement *misjudgement = &player_settings(player)->misjudgement;
    *misjudgement = (Misjudgement){0};
    if (sparring->elo == 0)
        return;
    Strength strength = strength_of(sparring->elo);
    *misjudgement = (Misjudgement){seed_of(sparring, game), strength.error};
    limits->alone = true; /* what a level was measured with */
    if (limits->nodes == 0 || limits->nodes > (uint64_t)strength.nodes)
        limits->nodes = (uint64_t)strength.nodes;
    if (!strength_misses(&strength, misjudgement->seed, &game->position))
        return;
    if (limits->only)
        *seen = *limits->only;
    else
        movegen_all(&game->position, seen);
    strength_leave_out_breaks(&game->position, seen);
    limits->only = seen;
}

static void choose_preferred(const Sparring *sparring, const Position *root, const ps_analysis *analysis,
                             SearchResult *result, SparChoice *choice)
{
    int chosen[PLAN_EFFECT_COUNT], best[PLAN_EFFECT_COUNT];
    const SearchLine *line = &result->preferred;
    plan_effects(root, analysis, line->moves[0], chosen);
    plan_effects(root, analysis, result->best, best);
    *choice = (SparChoice){.reason = spar_style_reason(sparring->style, chosen, best),
                           .best = result->best,
                           .cost = at_least(result->line.score - line->score, 0)};
    choice->more = chosen[choice->reason] > best[choice->reason];
    result->best = line->moves[0];
    result->ponder = line->length > 1 ? line->moves[1] : NO_MOVE;
    result->line = *line;
    result->line.rank = 1;
}

void spar_think(Player *player, const Sparring *sparring, const Game *game, const SearchLimits *limits,
                const SearchListener *listener, SearchResult *result, SparChoice *choice)
{
    const Position *root = &game->position;
    SearchLimits own = *limits;
    MoveList seen;
    MovePreference preference;
    ps_analysis analysis;
    Lines lines; /* large, and filled as far as it is used */
    const SearchListener collecting = {take_line, take_step, &lines};
    bool tells = listener && listener->line;
    lines.listener = listener;
    lines.count = 0;
    weaken(player, sparring, game, &own, &seen);
    structure_analyse(root, &analysis);
    if (style_has_a_say(sparring->style, &analysis, position_turn(root)) &&
        prefer(sparring, root, &analysis, &preference))
        own.preference = &preference;
    player_think(player, game, &own, tells && own.preference ? &collecting : listener, result);
    *choice = (SparChoice){.reason = NO_PLAN_EFFECT, .best = result->best};
    if (!own.preference || result->preferred.depth == 0)
        return;
    choose_preferred(sparring, root, &analysis, result, choice);
    if (tells)
        tell_anew(&lines, root, &result->line);
}
