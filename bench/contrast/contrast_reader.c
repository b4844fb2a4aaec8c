#include "bench/contrast/contrast_reader.h"

#include "bench/base/array.h"
#include "bench/base/complaint.h"
#include "engine/rules/fen.h"
#include "engine/rules/notation.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const arm_keys[READ_ARMS] = {"off", "on"};

static const char *text_of(const cJSON *object, const char *key)
{
    return cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(object, key));
}

/* NaN without a number. */
static double number_of(const cJSON *object, const char *key)
{
    return cJSON_GetNumberValue(cJSON_GetObjectItemCaseSensitive(object, key));
}

static bool read_arm(const cJSON *arm, const Position *position, Move *move, int *solved)
{
    const char *san = text_of(arm, "move");
    const cJSON *known = cJSON_GetObjectItemCaseSensitive(arm, "solved");
    *solved = cJSON_IsBool(known) ? cJSON_IsTrue(known) : -1;
    return san != NULL && san_parse(position, san, move) == NOTATION_OK;
}

/* No two scores are so far apart; a file may say anything. */
enum { GAIN_MOST = 1000000 };

/* False without one. */
static bool read_gain(const cJSON *object, ReadChange *change)
{
    const cJSON *gain = cJSON_GetObjectItemCaseSensitive(object, "gain");
    const double gains[READ_ARMS] = {number_of(gain, "judge_off"), number_of(gain, "judge_on")};
    change->gain = (gains[READ_OFF] + gains[READ_ON]) / 2;
    change->win = number_of(gain, "win");
    if (isnan(change->gain) || isnan(change->win))
        return false;
    for (int arm = READ_OFF; arm < READ_ARMS; arm++)
        change->judge_gain[arm] = (int)fmax(-GAIN_MOST, fmin(gains[arm], GAIN_MOST));
    return true;
}

static ReadChange *add_change(ReadContrast *contrast)
{
    if (!array_reserve(contrast->changes, contrast->change_capacity, contrast->change_count, 1))
        return NULL;
    ReadChange *change = &contrast->changes[contrast->change_count++];
    *change = (ReadChange){0};
    return change;
}

/* A position whose move did not change is well read and left out. */
static const char *read_position(ReadContrast *contrast, const cJSON *object)
{
    const cJSON *changed = cJSON_GetObjectItemCaseSensitive(object, "changed");
    const char *fen = text_of(object, "fen"), *verdict = text_of(object, "verdict"),
               *name = text_of(object, "id");
    ReadChange read = {0};
    if (fen == NULL || verdict == NULL || name == NULL || !cJSON_IsBool(changed) || !read_gain(object, &read))
        return "has no \"id\", \"fen\", \"verdict\", \"changed\" or \"gain\"";
    if (!cJSON_IsTrue(changed))
        return NULL;
    ReadChange *change = add_change(contrast);
    if (change == NULL)
        return "does not fit in memory";
    *change = read;
    change->verdict = strdup(verdict);
    change->name = strdup(name);
    if (change->verdict == NULL || change->name == NULL)
        return "does not fit in memory";
    if (fen_parse(fen, false, &change->position, NULL) != FEN_OK &&
        fen_parse(fen, true, &change->position, NULL) != FEN_OK)
        return "has a \"fen\" that is no legal position";
    for (int arm = READ_OFF; arm < READ_ARMS; arm++)
        if (!read_arm(cJSON_GetObjectItemCaseSensitive(object, arm_keys[arm]), &change->position,
                      &change->moves[arm], &change->solved[arm]))
            return "has no legal \"move\" of both arms";
    return NULL;
}

static bool judges_agree(const ReadChange *change)
{
    int off = change->judge_gain[READ_OFF], on = change->judge_gain[READ_ON];
    return (off > 0 && on > 0) || (off < 0 && on < 0);
}

/* The second judgement of a change that has been read. */
static const char *read_again(ReadContrast *contrast, const cJSON *object, const char *name)
{
    const char *fen = text_of(object, "of");
    Position position;
    ReadChange again = {0};
    if (fen == NULL || !read_gain(object, &again))
        return "has no \"of\" or \"gain\"";
    if (fen_parse(fen, false, &position, NULL) != FEN_OK && fen_parse(fen, true, &position, NULL) != FEN_OK)
        return "has an \"of\" that is no legal position";
    for (size_t i = 0; i < contrast->change_count; i++) {
        ReadChange *change = &contrast->changes[i];
        if (change->position.key != position.key || strcmp(change->name, name) != 0)
            continue;
        change->confirmed =
            judges_agree(change) && judges_agree(&again) && (change->gain > 0) == (again.gain > 0);
        memcpy(change->judge_gain, again.judge_gain, sizeof change->judge_gain);
        change->gain = again.gain;
        change->win = again.win;
        return NULL;
    }
    return "judges a position again that has not been judged";
}

/* Whether a number can be one of positions: whole, and exact in a double. */
static bool is_count(double number)
{
    return number >= 0 && number <= 9007199254740992.0 && number == floor(number);
}

static const char *read_class(const cJSON *object, const char *name, ReadClass *class)
{
    *class = (ReadClass){
        .name = strdup(name),
        .positions = number_of(object, "positions"),
        .with_answer = number_of(object, "with_answer"),
        .changed = number_of(object, "changed"),
        .solved = {number_of(object, "solved_off"), number_of(object, "solved_on")},
        .mcnemar_p = number_of(object, "mcnemar_p"),
        .gain = number_of(object, "gain_mean"),
        .win = number_of(object, "win_mean"),
        .win_low = number_of(object, "win_low"),
        .win_high = number_of(object, "win_high"),
        .win_p_holm = number_of(object, "win_p_holm"),
        .nodes_to_choice = {number_of(object, "nodes_to_choice_off"),
                            number_of(object, "nodes_to_choice_on")},
    };
    return is_count(class->positions) && is_count(class->changed)
               ? NULL
               : "has no \"positions\" or \"changed\" that can be counted";
}

static const char *add_class(const cJSON *object, const char *name, ReadClass classes[READ_CLASSES_MAX],
                             int *count)
{
    if (*count == READ_CLASSES_MAX)
        return "is one class too many";
    return read_class(object, name, &classes[(*count)++]);
}

static const char *read_object(ReadContrast *contrast, const cJSON *object)
{
    const char *verdict = text_of(object, "verdict"), *grade = text_of(object, "grade"),
               *all = text_of(object, "all"), *again = text_of(object, "judged_again");
    if (contrast->complete)
        return "comes after the summary";
    if (cJSON_GetObjectItemCaseSensitive(object, "fen") != NULL)
        return read_position(contrast, object);
    if (again != NULL)
        return read_again(contrast, object, again);
    if (verdict != NULL)
        return add_class(object, verdict, contrast->by_verdict, &contrast->by_verdict_count);
    if (grade != NULL)
        return add_class(object, grade, contrast->by_grade, &contrast->by_grade_count);
    if (all == NULL)
        return "is neither a position nor a class";
    contrast->complete = true;
    return read_class(object, all, &contrast->all);
}

static bool read_line(ReadContrast *contrast, const char *text, long line)
{
    cJSON *object = cJSON_Parse(text);
    const char *wrong = cJSON_IsObject(object) ? read_object(contrast, object) : "is no JSON object";
    if (wrong != NULL)
        complain(contrast->file, line, "the line %s; expected what \"contrast --json\" writes", wrong);
    cJSON_Delete(object);
    return wrong == NULL;
}

bool contrast_read_file(ReadContrast *contrast, const char *path)
{
    *contrast = (ReadContrast){.file = path};
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        complain(path, 0, "cannot be read: %s", strerror(errno));
        return false;
    }
    char *text = NULL;
    size_t size = 0;
    bool good = true;
    for (long line = 1; good && getline(&text, &size, file) >= 0; line++)
        good = read_line(contrast, text, line);
    if (good && ferror(file)) {
        complain(path, 0, "cannot be read: %s", strerror(errno));
        good = false;
    } else if (good && !contrast->complete) {
        complain(path, 0, "there is no summary at the end; expected all that \"contrast --json\" writes");
        good = false;
    }
    free(text);
    fclose(file);
    return good;
}

static void free_classes(ReadClass *classes, int count)
{
    for (int i = 0; i < count; i++)
        free(classes[i].name);
}

void read_contrast_free(ReadContrast *contrast)
{
    for (size_t i = 0; i < contrast->change_count; i++) {
        free(contrast->changes[i].name);
        free(contrast->changes[i].verdict);
    }
    free(contrast->changes);
    free_classes(contrast->by_verdict, contrast->by_verdict_count);
    free_classes(contrast->by_grade, contrast->by_grade_count);
    free(contrast->all.name);
    *contrast = (ReadContrast){0};
}
