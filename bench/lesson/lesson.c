#include "bench/lesson/lesson.h"

#include "engine/evaluation/structure_view.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>

const JudgementWords judgements[JUDGEMENT_COUNT] = {
    [JUDGED_BEST] = {15, "as good as anything", 1},
    [JUDGED_SOUND] = {50, "sound", 0},
    [JUDGED_COSTLY] = {150, "costs something", 6},
    [JUDGED_BAD] = {INT_MAX, "bad", 2},
};

/* Beyond this a game is as good as decided, and differences say nothing. */
enum { DECIDED = 1000 };

void lesson_analyse(const Position *position, ps_analysis *analysis)
{
    ps_board board;
    structure_view(position, &board);
    ps_analyse(analysis, &board);
}

void score_write(int score, char text[SCORE_TEXT_SIZE])
{
    if (!score_is_mate(score))
        snprintf(text, SCORE_TEXT_SIZE, "%+d.%02d", score / 100, abs(score % 100));
    else if (score > 0)
        snprintf(text, SCORE_TEXT_SIZE, "mate in %d", score_mate_moves(score));
    else
        snprintf(text, SCORE_TEXT_SIZE, "mated in %d", -score_mate_moves(score));
    /* An int cannot tell -0 from 0. */
    if (score < 0 && score > -100)
        text[0] = '-';
}

bool lesson_search(Player *player, const Position *position, Move only, uint64_t nodes, JudgedMove *judged,
                   SearchLine *line)
{
    MoveList list = {.count = 1, .moves = {only}};
    SearchLimits limits = {.nodes = nodes, .only = only != NO_MOVE ? &list : NULL};
    SearchResult result;
    Game game;
    if (!game_start(&game, position))
        return false;
    player_forget(player);
    player_think(player, &game, &limits, NULL, &result);
    game_free(&game);
    *judged = (JudgedMove){.move = result.best, .score = result.line.score};
    san_write(position, result.best, judged->san);
    if (line != NULL)
        *line = result.line;
    return true;
}

static int clip(int score)
{
    return score > DECIDED ? DECIDED : score < -DECIDED ? -DECIDED : score;
}

void lesson_compare(JudgedMove *judged, const JudgedMove *best)
{
    if (judged->move == best->move)
        judged->score = best->score;
    int behind = clip(best->score) - clip(judged->score);
    judged->behind = behind > 0 ? behind : 0;
    judged->judgement = JUDGED_BEST;
    while (judged->behind > judgements[judged->judgement].behind_at_most)
        judged->judgement++;
}

/* The legal move that pushes a pawn so, NO_MOVE if its king forbids it. */
static Move move_of(const Position *position, const ps_break *push)
{
    Move move = move_make((Square)push->from, (Square)push->to, PLAIN);
    return movegen_is_legal(position, move) ? move : NO_MOVE;
}

static bool judge(Player *player, const Position *position, Move move, uint64_t nodes, const JudgedMove *best,
                  JudgedMove *judged)
{
    if (!lesson_search(player, position, move, nodes, judged, NULL))
        return false;
    lesson_compare(judged, best);
    return true;
}

static bool judge_breaks(Lesson *lesson, Side side, const Position *position, Player *player, uint64_t nodes)
{
    LessonSide *out = &lesson->sides[side];
    const ps_break_list *list = &lesson->analysis.breaks[side];
    for (int i = 0; i < list->count; i++) {
        const ps_break *push = &list->items[i];
        Move move = move_of(position, push);
        if (move == NO_MOVE)
            continue;
        LessonBreak *judged = &out->breaks[out->break_count++];
        *judged = (LessonBreak){.push = *push, .short_of_support = push->attackers > push->supporters};
        if (!judge(player, position, move, nodes, &out->best, &judged->judged))
            return false;
    }
    return true;
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
    lesson_analyse(&next, &after);
    const ps_lever *lever = lesson_same_lever(&lesson->analysis, (ps_side)side, aim, &after);
    bool nearer =
        lever != NULL && ps_lever_is_live(lever) && lever->status != PS_PLAYED && lever->tempi < aim->tempi;
    return nearer ? lever->tempi : -1;
}

static bool find_preparations(Lesson *lesson, Side side, const Position *position, Player *player,
                              const LessonSettings *settings)
{
    LessonSide *out = &lesson->sides[side];
    LessonPreparation sound[MOVES_MAX];
    MoveList moves;
    int count = 0;
    movegen_all(position, &moves);
    for (int i = 0; i < moves.count; i++) {
        int tempi = tempi_after(lesson, side, position, moves.moves[i]);
        if (tempi < 0)
            continue;
        LessonPreparation *found = &sound[count];
        *found = (LessonPreparation){.tempi_before = out->aim->tempi, .tempi_after = tempi};
        if (!judge(player, position, moves.moves[i], settings->nodes, &out->best, &found->judged))
            return false;
        if (found->judged.behind <= settings->sound_margin)
            count++;
    }
    qsort(sound, (size_t)count, sizeof *sound, by_tempi_then_score);
    out->preparation_count = count < LESSON_PREPARATIONS_MAX ? count : LESSON_PREPARATIONS_MAX;
    for (int i = 0; i < out->preparation_count; i++)
        out->preparations[i] = sound[i];
    return true;
}

static bool study_side(Lesson *lesson, Side side, Player *player, const LessonSettings *settings)
{
    LessonSide *out = &lesson->sides[side];
    Position position = lesson->position;
    if (position_turn(&position) != side) {
        if (position_in_check(&position))
            return true;
        position_pass(&position);
    }
    if (!movegen_any(&position))
        return true;
    out->searched = true;
    out->aim = choose_aim(&lesson->analysis, (ps_side)side);
    return lesson_search(player, &position, NO_MOVE, settings->nodes, &out->best, &out->line) &&
           judge_breaks(lesson, side, &position, player, settings->nodes) &&
           (out->aim == NULL || find_preparations(lesson, side, &position, player, settings));
}

bool lesson_make(Lesson *lesson, const Position *position, Player *player, const LessonSettings *settings)
{
    ps_board board;
    *lesson = (Lesson){.position = *position};
    structure_view(&lesson->position, &board);
    ps_analyse(&lesson->analysis, &board);
    ps_explain(lesson->words, sizeof lesson->words, &lesson->analysis, &board);
    return study_side(lesson, WHITE, player, settings) && study_side(lesson, BLACK, player, settings);
}
