#include "bench/contrast/contrast.h"

#include "bench/base/utf8.h"
#include "bench/contrast/judge.h"
#include "bench/explain/named_lever.h"
#include "engine/evaluation/structure_view.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool contrast_read_task(const EpdRecord *record, ContrastTask *task, char error[EPD_ERROR_SIZE])
{
    const char *id = epd_text(record, "id");
    task->position = record->position;
    snprintf(task->fields, sizeof task->fields, "%s", record->fields);
    if (id)
        snprintf(task->id, sizeof task->id, "%s", id);
    else
        snprintf(task->id, sizeof task->id, "%s:%ld", record->file ? record->file : "", record->line);
    /* Not cut within a character. */
    for (size_t length = strlen(task->id); !utf8_is_valid(task->id); length--)
        task->id[length - 1] = '\0';
    if (!movegen_any(&task->position)) {
        snprintf(error, EPD_ERROR_SIZE, "there is no legal move; expected a position with a choice to make");
        return false;
    }
    if (!epd_moves(record, "bm", &task->best, error) || !epd_moves(record, "am", &task->avoid, error))
        return false;
    task->has_answer = task->best.count > 0 || task->avoid.count > 0;
    return true;
}

static bool solves(const ContrastTask *task, Move move)
{
    return task->has_answer && (task->best.count == 0 || move_list_has(&task->best, move)) &&
           !move_list_has(&task->avoid, move);
}

static void classify(const Position *position, ContrastResult *result)
{
    ps_analysis analysis;
    structure_analyse(position, &analysis);
    const ps_plan *plan = &analysis.plan[position_turn(position)];
    result->verdict = plan->verdict;
    result->has_grade = analysis.chain_count > 0;
    result->lever = named_lever_push(position);
    result->grade = plan->verdict == PS_NONE ? PS_VOID : analysis.chains[plan->chain].grade;
}

static void set_arm(Player *player, const ContrastPlan *plan, Arms arm)
{
    PlayerSettings *settings = player_settings(player);
    settings->lever_weight = arm == TERM_ON ? plan->weight : 0;
    settings->lever_rule = plan->rule;
}

/* Of each arm's choice, with `factor` times the nodes of the longer of the two searches. */
static void judge_choices(Player *player, const ContrastPlan *plan, const Game *game,
                          const ContrastChoice *choice, uint64_t factor, ContrastJudgement *judged)
{
    uint64_t nodes = plan->limits.nodes;
    if (nodes == 0)
        nodes =
            choice[TERM_OFF].nodes > choice[TERM_ON].nodes ? choice[TERM_OFF].nodes : choice[TERM_ON].nodes;
    for (int judge = TERM_OFF; judge <= TERM_ON; judge++) {
        Thoughts of[ARM_COUNT];
        set_arm(player, plan, judge);
        for (int arm = TERM_OFF; arm <= TERM_ON; arm++)
            judge_alone(player, game, choice[arm].move, factor * nodes, &of[arm]);
        int depth = of[TERM_OFF].deepest < of[TERM_ON].deepest ? of[TERM_OFF].deepest : of[TERM_ON].deepest;
        int off = of[TERM_OFF].scores[depth], on = of[TERM_ON].scores[depth];
        judged->depth[judge] = depth;
        judged->gain[judge] = judged_cut_off(on) - judged_cut_off(off);
        judged->win[judge] = winning_chance(on) - winning_chance(off);
        judged->doubt[judge] = judged_doubt(&of[TERM_ON], &of[TERM_OFF], depth);
    }
}

bool contrast_is_close(const ContrastJudgement *judged)
{
    for (int judge = TERM_OFF; judge <= TERM_ON; judge++)
        if (judged->depth[judge] > 0 && abs(judged->gain[judge]) <= judged->doubt[judge])
            return true;
    return false;
}

bool contrast_run(Player *player, const ContrastPlan *plan, const ContrastTask *task, ContrastResult *result)
{
    Game game;
    if (!game_start(&game, &task->position))
        return false;
    *result = (ContrastResult){.changed = false};
    classify(&task->position, result);
    for (int arm = TERM_OFF; arm <= TERM_ON; arm++) {
        SearchResult found;
        set_arm(player, plan, arm);
        think_cold(player, &game, &plan->limits, NULL, &found);
        result->choice[arm] =
            (ContrastChoice){.move = found.best,
                             .score = found.line.score,
                             .depth = found.line.depth,
                             .nodes = found.nodes,
                             .nodes_to_choice = found.nodes_to_choice,
                             .microseconds = found.microseconds,
                             .plays_lever = result->lever != NO_MOVE && found.best == result->lever,
                             .solved = solves(task, found.best)};
    }
    result->changed = result->choice[TERM_OFF].move != result->choice[TERM_ON].move;
    if (result->changed)
        judge_choices(player, plan, &game, result->choice, JUDGE_FACTOR, &result->judged);
    game_free(&game);
    return true;
}

bool contrast_judge_again(Player *player, const ContrastPlan *plan, const ContrastTask *task,
                          const ContrastResult *result, ContrastJudgement *again)
{
    Game game;
    if (!game_start(&game, &task->position))
        return false;
    judge_choices(player, plan, &game, result->choice, JUDGE_AGAIN_FACTOR * JUDGE_FACTOR, again);
    game_free(&game);
    return true;
}
