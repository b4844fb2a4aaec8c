#include "bench/lesson/lesson.h"

#include "engine/evaluation/structure_view.h"

#include <stdlib.h>

/* The legal move that pushes a pawn so, NO_MOVE if its king forbids it. */
static Move move_of(const Position *position, const ps_break *push)
{
    Move move = move_make(push->from, push->to, PLAIN);
    return movegen_is_legal(position, move) ? move : NO_MOVE;
}

/* The breaks that are legal moves, not yet judged. */
static void find_breaks(Lesson *lesson, Side side, const Position *position)
{
    LessonSide *out = &lesson->sides[side];
    const ps_break_list *list = &lesson->analysis.breaks[side];
    for (int i = 0; i < list->count; i++) {
        const ps_break *push = &list->items[i];
        Move move = move_of(position, push);
        if (move == NO_MOVE)
            continue;
        LessonBreak *found = &out->breaks[out->break_count++];
        *found = (LessonBreak){.push = *push, .short_of_support = push->attackers > push->supporters};
        found->judged.move = move;
    }
}

const ps_lever *lesson_same_lever(const ps_analysis *before, ps_side side, const ps_lever *lever,
                                  const ps_analysis *after)
{
    for (int i = 0; i < before->chain_count; i++) {
        const ps_chain_side *chain = &before->chains[i].side[side];
        bool base = lever == &chain->base_lever;
        if (!base && lever != &chain->head_lever)
            continue;
        for (int k = 0; k < after->chain_count; k++) {
            const ps_chain_side *same = &after->chains[k].side[side];
            if (same->head == chain->head && same->base == chain->base)
                return base ? &same->base_lever : &same->head_lever;
        }
    }
    return NULL;
}

/* What is worth preparing: the base lever, or the head lever if the base lever can never come. */
static const ps_lever *choose_aim(const ps_analysis *analysis, ps_side side)
{
    const ps_chain_side *chain = ps_plan_chain(analysis, side);
    if (chain == NULL)
        return NULL;
    const ps_lever *levers[] = {&chain->base_lever, &chain->head_lever};
    for (int i = 0; i < 2; i++)
        if (ps_lever_is_live(levers[i]))
            return levers[i]->status != PS_PLAYED ? levers[i] : NULL;
    return NULL;
}

static int by_tempi_then_score(const void *a, const void *b)
{
    const LessonPreparation *one = a, *other = b;
    if (one->tempi_after != other->tempi_after)
        return one->tempi_after < other->tempi_after ? -1 : 1;
    if (one->judged.score != other->judged.score)
        return one->judged.score > other->judged.score ? -1 : 1;
    return one->judged.move < other->judged.move ? -1 : one->judged.move > other->judged.move;
}

/* Tempi of the lever after a move, or -1 if the move does not bring it nearer, or plays it. */
static int tempi_after(const Lesson *lesson, Side side, const Position *position, Move move)
{
    const ps_lever *aim = lesson->sides[side].aim;
    Position next = *position;
    ps_analysis after;
    position_play(&next, move);
    structure_analyse(&next, &after);
    const ps_lever *lever = lesson_same_lever(&lesson->analysis, side, aim, &after);
    bool nearer =
        lever != NULL && ps_lever_is_live(lever) && lever->status != PS_PLAYED && lever->tempi < aim->tempi;
    return nearer ? lever->tempi : -1;
}

/* The moves that bring the lever nearer, not yet judged. Returns how many. */
static int find_preparations(const Lesson *lesson, Side side, const Position *position,
                             LessonPreparation found[MOVES_MAX])
{
    const ps_lever *aim = lesson->sides[side].aim;
    MoveList moves;
    int count = 0;
    movegen_all(position, &moves);
    for (int i = 0; aim != NULL && i < moves.count; i++) {
        int tempi = tempi_after(lesson, side, position, moves.moves[i]);
        if (tempi < 0)
            continue;
        found[count] = (LessonPreparation){.tempi_before = aim->tempi, .tempi_after = tempi};
        found[count++].judged.move = moves.moves[i];
    }
    return count;
}

/* Keeps those that hold up, the first of them by tempi and score. */
static void keep_sound(LessonSide *out, LessonPreparation *found, int count, int margin)
{
    int sound = 0;
    for (int i = 0; i < count; i++)
        if (found[i].judged.behind <= margin)
            found[sound++] = found[i];
    qsort(found, (size_t)sound, sizeof *found, by_tempi_then_score);
    out->preparation_count = sound < LESSON_PREPARATIONS_MAX ? sound : LESSON_PREPARATIONS_MAX;
    for (int i = 0; i < out->preparation_count; i++)
        out->preparations[i] = found[i];
}

/* Everything is searched before anything is judged: any of it may be the best. */
static bool judge_moves(LessonSide *out, LessonPreparation *found, int count, const Position *position,
                        Player *player, const LessonSettings *settings)
{
    Comparison *comparison = comparison_new(player, position, &settings->effort);
    if (comparison == NULL)
        return false;
    for (int i = 0; i < out->break_count; i++)
        comparison_add(comparison, out->breaks[i].judged.move);
    for (int i = 0; i < count; i++)
        comparison_add(comparison, found[i].judged.move);
    comparison_add_rival(comparison);
    for (int i = 0; i < out->break_count; i++)
        comparison_judge(comparison, out->breaks[i].judged.move, &out->breaks[i].judged);
    for (int i = 0; i < count; i++)
        comparison_judge(comparison, found[i].judged.move, &found[i].judged);
    comparison_judge(comparison, comparison_best(comparison), &out->best);
    comparison_judge(comparison, comparison_choice(comparison), &out->choice);
    out->line = *comparison_line(comparison);
    out->depth = comparison_depth(comparison);
    comparison_free(comparison);
    return true;
}

static bool study_side(Lesson *lesson, Side side, Player *player, const LessonSettings *settings)
{
    LessonSide *out = &lesson->sides[side];
    LessonPreparation found[MOVES_MAX];
    Position position = lesson->position;
    if (settings->effort.nodes == 0)
        return true;
    if (position_turn(&position) != side) {
        if (position_in_check(&position))
            return true;
        position_pass(&position);
    }
    if (!movegen_any(&position))
        return true;
    out->searched = true;
    out->aim = choose_aim(&lesson->analysis, side);
    find_breaks(lesson, side, &position);
    int count = find_preparations(lesson, side, &position, found);
    if (!judge_moves(out, found, count, &position, player, settings))
        return false;
    keep_sound(out, found, count, settings->sound_margin);
    return true;
}

bool lesson_make(Lesson *lesson, const Position *position, Player *player, const LessonSettings *settings)
{
    *lesson = (Lesson){.position = *position};
    structure_analyse(&lesson->position, &lesson->analysis);
    answer_in_short(&lesson->position, &lesson->analysis, lesson->answer);
    answer_in_full(&lesson->position, &lesson->analysis, lesson->words, sizeof lesson->words);
    return study_side(lesson, WHITE, player, settings) && study_side(lesson, BLACK, player, settings);
}
