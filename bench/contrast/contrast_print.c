#include "bench/contrast/contrast_print.h"

#include "bench/base/csv.h"
#include "bench/base/json_line.h"
#include "engine/rules/notation.h"

#include <inttypes.h>
#include <math.h>

static const char *const arm_names[ARM_COUNT] = {"off", "on"};

static const char *grade_text(const ContrastResult *result)
{
    return result->has_grade ? ps_grade_name(result->grade) : "-";
}

static const char *solved_mark(const ContrastTask *task, const ContrastChoice *choice)
{
    return !task->has_answer ? "" : choice->solved ? "yes" : "no";
}

/* ------------------------------------------------------------------------------------------- for people */

void contrast_print_head(const ContrastPrinter *printer, const ContrastPlan *plan)
{
    FILE *out = printer->out;
    fprintf(out,
            "Each position searched with the lever term off and on (weight %d %%, %s reading). Scores, and "
            "the gain by\n"
            "the move chosen with the term, in centipawns for the side to move; gain as a judge without the "
            "term, one\n"
            "with it, and their mean see it, both moves searched to the same depth; close if it is no larger "
            "than what it\n"
            "changed by while a judge's nodes doubled. Win: the mean as winning chances, in\n"
            "percent, a draw half a win: 100 / (1 + exp(-score / %d)), fitted to this engine's games "
            "(pawnvane-bench "
            "fit).\n\n",
            plan->weight, ps_rule_name(plan->rule), WIN_SCALE);
    fprintf(out, "%-22s %-11s %-12s | %-7s %7s %5s %9s %-4s| %-7s %7s %5s %9s %-4s| %s\n", "position",
            "verdict", "grade", "off", "score", "depth", "nodes", "best", "on", "score", "depth", "nodes",
            "best", "gain off    on  mean    win");
}

/* A gain that is no larger than what twice the nodes change is none. */
static const char *opinion(const ContrastJudgement *judged)
{
    if (contrast_is_close(judged))
        return "close";
    return contrast_mean_gain(judged) > 0 ? "better" : "worse";
}

void contrast_print_row(const ContrastPrinter *printer, const ContrastTask *task,
                        const ContrastResult *result)
{
    FILE *out = printer->out;
    fprintf(out, "%-22.22s %-11s %-12s ", task->id, ps_verdict_name(result->verdict),
            contrast_words(grade_text(result)));
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        const ContrastChoice *choice = &result->choice[arm];
        char move[MOVE_TEXT_SIZE], score[SCORE_TEXT_SIZE];
        san_write(&task->position, choice->move, move);
        score_write_centipawns(choice->score, score);
        fprintf(out, "| %-7s %7s %5d %9" PRIu64 " %-4s", move, score, choice->depth, choice->nodes,
                solved_mark(task, choice));
    }
    if (result->changed)
        fprintf(out, "| %+8d %+5d %+5.1f %+6.1f  %s", result->judged.gain[TERM_OFF],
                result->judged.gain[TERM_ON], contrast_mean_gain(&result->judged),
                winning_percent(contrast_mean_win(&result->judged)), opinion(&result->judged));
    else
        fputs("|     same move", out);
    if (printer->timings)
        fprintf(out, "  %.0f %.0f ms", (double)result->choice[TERM_OFF].microseconds / 1000,
                (double)result->choice[TERM_ON].microseconds / 1000);
    fputc('\n', out);
}

static void print_class(FILE *out, const ContrastClass *class)
{
    fprintf(out, "%-14s %9d ", contrast_words(class->name), class->positions);
    if (class->with_answer)
        fprintf(out, "%4d %4d of %-4d %7.2g", class->solved[TERM_OFF], class->solved[TERM_ON],
                class->with_answer, class->mcnemar);
    else
        fprintf(out, "%4s %4s    %-4s %7s", "-", "-", "", "-");
    fprintf(out, " %8d", class->changed);
    if (class->changed)
        fprintf(out, " %+6.1f %+6.1f %+6.1f %+6.1f", class->gain[TERM_OFF], class->gain[TERM_ON],
                class->mean_gain, winning_percent(class->win));
    else
        fprintf(out, " %6s %6s %6s %6s", "-", "-", "-", "-");
    if (isfinite(class->win_interval.low))
        fprintf(out, "  %+5.1f to %+5.1f %6.2g %6.2g", winning_percent(class->win_interval.low),
                winning_percent(class->win_interval.high), class->p_value, class->p_adjusted);
    else
        fprintf(out, "  %-14s %6s %6s", "-", "-", "-");
    if (class->positions)
        fprintf(out, " %10.0f %10.0f", class->nodes_to_choice[TERM_OFF], class->nodes_to_choice[TERM_ON]);
    fputc('\n', out);
}

/* Of what a sentence speaks, in the order of the classes. */
static const char *const sentence_heads[CLASS_COUNT] = {
    [CLASS_VERDICT + PS_APPLIES] = "where the direction applies",
    [CLASS_VERDICT + PS_FULFILLED] = "where it has been fulfilled",
    [CLASS_VERDICT + PS_MISLEADING] = "where it misleads",
    [CLASS_VERDICT + PS_WEAK] = "where it is weak",
    [CLASS_VERDICT + PS_NONE] = "where there is none",
    [CLASS_GRADE] = "where the chain is firm",
    [CLASS_GRADE + 1] = "where it is likely",
    [CLASS_GRADE + 2] = "where it is doubtful",
    [CLASS_GRADE + 3] = "where it says nothing",
    [CLASS_NO_PAIR] = "where there is no chain",
    [CLASS_ALL] = "in all positions",
};

/* By verdict, and all. */
static void print_obedience(FILE *out, const ContrastClass classes[CLASS_COUNT])
{
    fputs("\nWas the lever that the plan names played where it could be at once? (p: exact McNemar test)\n",
          out);
    for (int c = 0; c < CLASS_COUNT; c++) {
        char sentence[CONTRAST_SENTENCE_SIZE];
        contrast_obedience_sentence(&classes[c], sentence, sizeof sentence);
        if (c == CLASS_ALL && *sentence == '\0')
            fputs("  It could not, in any of these positions.\n", out);
        else if ((c < CLASS_GRADE || c == CLASS_ALL) && *sentence != '\0')
            fprintf(out, "  %s: %s\n", sentence_heads[c], sentence);
    }
}

void contrast_print_summary(const ContrastPrinter *printer, const ContrastClass classes[CLASS_COUNT])
{
    FILE *out = printer->out;
    const char *kind = "";
    fprintf(
        out,
        "\nSummary, by the side to move. Solved: the move is the suite's; p: exact McNemar test of each "
        "class "
        "alone. Gain:\n"
        "mean over the changed moves, by the judge without and with the term, and of both, in centipawns; "
        "the "
        "last in\n"
        "winning chances, percent, with its 95 %% interval and the p-value of no gain (bootstrap-t), of each "
        "class alone\n"
        "and adjusted for all classes (Holm). Nodes until the final choice was made: mean over all "
        "positions.\n\n");
    fprintf(out, "%-14s %9s %-17s %7s %8s %20s %36s %21s\n", "", "", "solved", "", "moves", "centipawns",
            "winning chances, %", "nodes to choice");
    for (int c = 0; c < CLASS_COUNT; c++) {
        if (classes[c].kind != kind) {
            kind = classes[c].kind;
            fprintf(out, "%-14s %9s %4s %4s    %-4s %7s %8s %6s %6s %6s %6s  %-14s %6s %6s %10s %10s\n", kind,
                    "positions", "off", "on", "", "p", "changed", "off", "on", "mean", "mean", "95 %", "p",
                    "Holm", "off", "on");
        }
        print_class(out, &classes[c]);
    }
    print_obedience(out, classes);
    fputs("\nDid the lever term help?\n", out);
    for (int c = 0; c < CLASS_COUNT; c++) {
        char sentence[CONTRAST_SENTENCE_SIZE];
        contrast_sentence(&classes[c], sentence, sizeof sentence);
        if (c >= CLASS_GRADE && c < CLASS_ALL && classes[c].positions == 0)
            continue;
        fprintf(out, "  %s: %s\n", sentence_heads[c], sentence);
    }
}

/* ------------------------------------------------------------------------------------------- JSON */

/* One digit behind the point, so that the text does not depend on how a sum was rounded; null for what is no
 * number. */
static void add_real(cJSON *object, const char *name, double value, const char *format)
{
    char text[32];
    if (!isfinite(value)) {
        cJSON_AddNullToObject(object, name);
        return;
    }
    snprintf(text, sizeof text, format, value);
    cJSON_AddRawToObject(object, name, text);
}

static void add_choice(cJSON *object, const ContrastPrinter *printer, const ContrastTask *task,
                       const ContrastResult *result, int arm)
{
    const ContrastChoice *choice = &result->choice[arm];
    char move[MOVE_TEXT_SIZE];
    cJSON *c = cJSON_AddObjectToObject(object, arm_names[arm]);
    san_write(&task->position, choice->move, move);
    cJSON_AddStringToObject(c, "move", move);
    if (score_is_mate(choice->score)) {
        cJSON_AddNullToObject(c, "score");
        cJSON_AddNumberToObject(c, "mate", score_mate_moves(choice->score));
    } else {
        cJSON_AddNumberToObject(c, "score", choice->score);
        cJSON_AddNullToObject(c, "mate");
    }
    cJSON_AddNumberToObject(c, "depth", choice->depth);
    cJSON_AddNumberToObject(c, "nodes", (double)choice->nodes);
    cJSON_AddNumberToObject(c, "nodes_to_choice", (double)choice->nodes_to_choice);
    if (task->has_answer)
        cJSON_AddBoolToObject(c, "solved", choice->solved);
    else
        cJSON_AddNullToObject(c, "solved");
    if (printer->timings)
        add_real(c, "milliseconds", (double)choice->microseconds / 1000, "%.1f");
}

static void add_judgement(cJSON *object, const ContrastJudgement *judged)
{
    cJSON *gain = cJSON_AddObjectToObject(object, "gain");
    cJSON_AddNumberToObject(gain, "judge_off", judged->gain[TERM_OFF]);
    cJSON_AddNumberToObject(gain, "judge_on", judged->gain[TERM_ON]);
    add_real(gain, "mean", contrast_mean_gain(judged), "%.1f");
    add_real(gain, "win", contrast_mean_win(judged), "%.5f");
    cJSON_AddNumberToObject(gain, "doubt_off", judged->doubt[TERM_OFF]);
    cJSON_AddNumberToObject(gain, "doubt_on", judged->doubt[TERM_ON]);
    cJSON_AddBoolToObject(gain, "close", contrast_is_close(judged));
    cJSON_AddNumberToObject(gain, "depth_off", judged->depth[TERM_OFF]);
    cJSON_AddNumberToObject(gain, "depth_on", judged->depth[TERM_ON]);
}

bool contrast_print_json(const ContrastPrinter *printer, const ContrastTask *task,
                         const ContrastResult *result)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "id", task->id);
    cJSON_AddStringToObject(object, "fen", task->fields);
    cJSON_AddStringToObject(object, "verdict", ps_verdict_name(result->verdict));
    if (result->has_grade)
        cJSON_AddStringToObject(object, "grade", ps_grade_name(result->grade));
    else
        cJSON_AddNullToObject(object, "grade");
    for (int arm = 0; arm < ARM_COUNT; arm++)
        add_choice(object, printer, task, result, arm);
    if (result->lever != NO_MOVE) {
        char move[MOVE_TEXT_SIZE];
        san_write(&task->position, result->lever, move);
        cJSON_AddStringToObject(object, "lever", move);
    } else {
        cJSON_AddNullToObject(object, "lever");
    }
    cJSON_AddBoolToObject(object, "changed", result->changed);
    add_judgement(object, &result->judged);
    return json_print_line(printer->out, object);
}

bool contrast_print_json_again(const ContrastPrinter *printer, const ContrastTask *task,
                               const ContrastJudgement *again)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, "judged_again", task->id);
    cJSON_AddStringToObject(object, "of", task->fields);
    add_judgement(object, again);
    return json_print_line(printer->out, object);
}

bool contrast_print_json_class(const ContrastPrinter *printer, const ContrastClass *class)
{
    cJSON *object = cJSON_CreateObject();
    cJSON_AddStringToObject(object, class->kind, class->name);
    cJSON_AddNumberToObject(object, "positions", class->positions);
    cJSON_AddNumberToObject(object, "with_answer", class->with_answer);
    cJSON_AddNumberToObject(object, "solved_off", class->solved[TERM_OFF]);
    cJSON_AddNumberToObject(object, "solved_on", class->solved[TERM_ON]);
    cJSON_AddNumberToObject(object, "solved_only_off", class->only[TERM_OFF]);
    cJSON_AddNumberToObject(object, "solved_only_on", class->only[TERM_ON]);
    add_real(object, "mcnemar_p", class->mcnemar, "%.6f");
    cJSON_AddNumberToObject(object, "lever_playable", class->playable);
    cJSON_AddNumberToObject(object, "lever_played_off", class->obeyed[TERM_OFF]);
    cJSON_AddNumberToObject(object, "lever_played_on", class->obeyed[TERM_ON]);
    add_real(object, "lever_played_p", class->obeyed_p, "%.6f");
    cJSON_AddNumberToObject(object, "changed", class->changed);
    cJSON_AddNumberToObject(object, "close", class->close);
    add_real(object, "gain_judge_off", class->gain[TERM_OFF], "%.2f");
    add_real(object, "gain_judge_on", class->gain[TERM_ON], "%.2f");
    add_real(object, "gain_mean", class->mean_gain, "%.2f");
    add_real(object, "win_mean", class->win, "%.5f");
    add_real(object, "win_low", class->win_interval.low, "%.5f");
    add_real(object, "win_high", class->win_interval.high, "%.5f");
    add_real(object, "win_p", class->p_value, "%.5f");
    add_real(object, "win_p_holm", class->p_adjusted, "%.5f");
    add_real(object, "nodes_to_choice_off", class->nodes_to_choice[TERM_OFF], "%.1f");
    add_real(object, "nodes_to_choice_on", class->nodes_to_choice[TERM_ON], "%.1f");
    return json_print_line(printer->out, object);
}

/* ------------------------------------------------------------------------------------------- CSV */

void contrast_print_csv_head(const ContrastPrinter *printer)
{
    fputs("id,fen,verdict,grade", printer->out);
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        const char *n = arm_names[arm];
        fprintf(printer->out, ",%s_move,%s_score,%s_depth,%s_nodes,%s_nodes_to_choice,%s_solved", n, n, n, n,
                n, n);
        if (printer->timings)
            fprintf(printer->out, ",%s_milliseconds", n);
    }
    fputs(",changed,gain_judge_off,gain_judge_on,gain_mean,win_mean,judge_off_depth,judge_on_depth,judge_off_"
          "doubt,judge_on_doubt,lever\n",
          printer->out);
}

void contrast_print_csv(const ContrastPrinter *printer, const ContrastTask *task,
                        const ContrastResult *result)
{
    FILE *out = printer->out;
    csv_text(out, task->id);
    fputc(',', out);
    csv_text(out, task->fields);
    fprintf(out, ",%s,%s", ps_verdict_name(result->verdict),
            result->has_grade ? ps_grade_name(result->grade) : "");
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        const ContrastChoice *choice = &result->choice[arm];
        char move[MOVE_TEXT_SIZE], score[SCORE_TEXT_SIZE];
        san_write(&task->position, choice->move, move);
        score_write_centipawns(choice->score, score);
        fprintf(out, ",%s,%s,%d,%" PRIu64 ",%" PRIu64 ",%s", move, score, choice->depth, choice->nodes,
                choice->nodes_to_choice, solved_mark(task, choice));
        if (printer->timings)
            fprintf(out, ",%.1f", (double)choice->microseconds / 1000);
    }
    const ContrastJudgement *judged = &result->judged;
    char lever[MOVE_TEXT_SIZE] = "";
    if (result->lever != NO_MOVE)
        san_write(&task->position, result->lever, lever);
    fprintf(out, ",%s,%d,%d,%.1f,%.5f,%d,%d,%d,%d,%s\n", result->changed ? "yes" : "no",
            judged->gain[TERM_OFF], judged->gain[TERM_ON], contrast_mean_gain(judged),
            contrast_mean_win(judged), judged->depth[TERM_OFF], judged->depth[TERM_ON],
            judged->doubt[TERM_OFF], judged->doubt[TERM_ON], lever);
}
