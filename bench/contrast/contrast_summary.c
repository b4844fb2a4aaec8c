#include "bench/contrast/contrast_summary.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RESAMPLES = 1999 };

static const double confidence = 0.95, level = 0.05;

static void name_class(int index, ContrastClass *class)
{
    *class = (ContrastClass){.kind = "all", .name = "all positions"};
    if (index < CLASS_GRADE) {
        class->kind = "verdict";
        class->name = ps_verdict_name(index - CLASS_VERDICT);
    } else if (index < CLASS_NO_PAIR) {
        /* Firmest first. */
        class->kind = "grade";
        class->name = ps_grade_name(PS_GRADE_COUNT - 1 - (index - CLASS_GRADE));
    } else if (index == CLASS_NO_PAIR) {
        class->kind = "grade";
        class->name = "no chain";
    }
}

const char *contrast_words(const char *name)
{
    return strcmp(name, ps_grade_name(PS_VOID)) == 0 ? "says nothing" : name;
}

static bool belongs(int index, const ContrastResult *result)
{
    if (index < CLASS_GRADE)
        return result->verdict == index - CLASS_VERDICT;
    if (index < CLASS_NO_PAIR)
        return result->has_grade && result->grade == PS_GRADE_COUNT - 1 - (index - CLASS_GRADE);
    return index == CLASS_ALL || !result->has_grade;
}

static void count_result(ContrastClass *class, const ContrastTask *task, const ContrastResult *result,
                         double *wins, uint64_t obeyed_only[ARM_COUNT])
{
    const ContrastChoice *off = &result->choice[TERM_OFF], *on = &result->choice[TERM_ON];
    class->positions++;
    class->with_answer += task->has_answer;
    class->solved[TERM_OFF] += off->solved;
    class->solved[TERM_ON] += on->solved;
    class->only[TERM_OFF] += off->solved && !on->solved;
    class->only[TERM_ON] += on->solved && !off->solved;
    class->playable += result->lever != NO_MOVE;
    class->obeyed[TERM_OFF] += off->plays_lever;
    class->obeyed[TERM_ON] += on->plays_lever;
    obeyed_only[TERM_OFF] += off->plays_lever && !on->plays_lever;
    obeyed_only[TERM_ON] += on->plays_lever && !off->plays_lever;
    for (int arm = 0; arm < ARM_COUNT; arm++)
        class->nodes_to_choice[arm] += (double)result->choice[arm].nodes_to_choice;
    if (!result->changed)
        return;
    wins[class->changed++] = contrast_mean_win(&result->judged);
    class->close += contrast_is_close(&result->judged);
    class->mean_gain += contrast_mean_gain(&result->judged);
    for (int judge = 0; judge < ARM_COUNT; judge++)
        class->gain[judge] += result->judged.gain[judge];
}

/* The p-values of the classes that have one, adjusted for all of these. */
static void adjust(ContrastClass classes[CLASS_COUNT])
{
    double p_values[CLASS_COUNT];
    size_t count = 0;
    for (int c = 0; c < CLASS_COUNT; c++)
        if (!isnan(classes[c].p_value))
            p_values[count++] = classes[c].p_value;
    holm_adjust(p_values, count, p_values);
    for (int c = CLASS_COUNT; c-- > 0;)
        classes[c].p_adjusted = isnan(classes[c].p_value) ? NAN : p_values[--count];
}

static bool finish_class(ContrastClass *class, const double *wins, uint64_t seed)
{
    BootstrapMean win = {.mean = mean(wins, (size_t) class->changed), .interval = {NAN, NAN}, .p_value = NAN};
    for (int arm = 0; arm < ARM_COUNT; arm++) {
        class->gain[arm] = class->changed ? class->gain[arm] / class->changed : NAN;
        class->nodes_to_choice[arm] = class->positions ? class->nodes_to_choice[arm] / class->positions : NAN;
    }
    class->mean_gain = class->changed ? class->mean_gain / class->changed : NAN;
    class->mcnemar = mcnemar_exact((uint64_t) class->only[TERM_OFF], (uint64_t) class->only[TERM_ON]);
    bool good = class->changed < FEWEST_CHANGES ||
                bootstrap_mean(wins, (size_t) class->changed, confidence, RESAMPLES, seed, &win);
    class->win = win.mean;
    class->win_interval = win.interval;
    class->p_value = win.p_value;
    return good;
}

bool contrast_summarise(const ContrastTask *tasks, const ContrastResult *results, size_t count,
                        ContrastClass classes[CLASS_COUNT])
{
    double *wins = malloc((count + 1) * sizeof *wins);
    bool good = wins != NULL;
    for (int c = 0; good && c < CLASS_COUNT; c++) {
        uint64_t obeyed_only[ARM_COUNT] = {0};
        name_class(c, &classes[c]);
        for (size_t i = 0; i < count; i++)
            if (belongs(c, &results[i]))
                count_result(&classes[c], &tasks[i], &results[i], wins, obeyed_only);
        classes[c].obeyed_p = mcnemar_exact(obeyed_only[TERM_OFF], obeyed_only[TERM_ON]);
        good = finish_class(&classes[c], wins, (uint64_t)c);
    }
    free(wins);
    if (good)
        adjust(classes);
    return good;
}

ContrastFinding contrast_finding(const ContrastClass *class)
{
    if (!(class->p_adjusted <= level))
        return FINDING_OPEN;
    return class->win > 0 ? FINDING_HELPED : FINDING_HARMED;
}

void contrast_sentence(const ContrastClass *class, char *text, size_t size)
{
    static const char *const findings[] = {"one cannot tell whether it helps", "it helped", "it harmed"};
    char solved[160] = "";
    if (class->positions == 0) {
        snprintf(text, size, "no such position in these suites.");
        return;
    }
    if (class->with_answer > 0)
        snprintf(solved, sizeof solved, "solved %d of %d without the term and %d with it (p = %.2g); ",
                 class->solved[TERM_OFF], class->with_answer, class->solved[TERM_ON], class->mcnemar);
    if (class->changed == 0)
        snprintf(text, size, "%sthe term changed none of %d %s, so it made no difference.", solved,
                 class->positions, class->positions == 1 ? "move" : "moves");
    else if (class->changed < FEWEST_CHANGES)
        snprintf(text, size, "%sthe term changed %d of %d moves: too few to tell whether it helps.", solved,
                 class->changed, class->positions);
    else if (isinf(class->win_interval.low))
        snprintf(text, size,
                 "%sthe term changed %d of %d moves, but too many of them for the same gain: one cannot tell "
                 "whether it helps.",
                 solved, class->changed, class->positions);
    else
        snprintf(text, size,
                 "%sthe term changed %d of %d moves, %d of them too close to call, for a mean gain of %+.1f "
                 "%% in winning chances (95 %%: "
                 "%+.1f to %+.1f; p = %.2g for this class alone, %.2g among all): %s.",
                 solved, class->changed, class->positions, class->close, winning_percent(class->win),
                 winning_percent(class->win_interval.low), winning_percent(class->win_interval.high),
                 class->p_value, class->p_adjusted, findings[contrast_finding(class)]);
}

void contrast_obedience_sentence(const ContrastClass *class, char *text, size_t size)
{
    if (class->playable == 0)
        snprintf(text, size, "%s", "");
    else
        snprintf(text, size, "played in %d of %d without the term and in %d with it (p = %.2g).",
                 class->obeyed[TERM_OFF], class->playable, class->obeyed[TERM_ON], class->obeyed_p);
}

size_t contrast_instructive(const ContrastResult *results, size_t count,
                            size_t picked[CONTRAST_INSTRUCTIVE_MAX])
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        const ContrastJudgement *judged = &results[i].judged;
        double size = fabs(contrast_mean_win(judged));
        size_t at = found;
        if (judged->win[TERM_OFF] * judged->win[TERM_ON] <= 0)
            continue;
        while (at > 0 && fabs(contrast_mean_win(&results[picked[at - 1]].judged)) < size)
            at--;
        if (at == CONTRAST_INSTRUCTIVE_MAX)
            continue;
        found += found < CONTRAST_INSTRUCTIVE_MAX;
        for (size_t later = found - 1; later > at; later--)
            picked[later] = picked[later - 1];
        picked[at] = i;
    }
    return found;
}
