#include "bench/contrast/contrast_summary.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Below that many changed moves the bootstrap interval is too narrow to be believed, and no verdict is given.
 */
enum { FEWEST_CHANGES = 10, RESAMPLES = 10000 };

static const double confidence = 0.95;

static void name_class(int index, ContrastClass *class)
{
    *class = (ContrastClass){.kind = "all", .name = "all positions"};
    if (index < CLASS_GRADE) {
        class->kind = "verdict";
        class->name = ps_verdict_name((ps_verdict)(index - CLASS_VERDICT));
    } else if (index < CLASS_NO_PAIR) {
        /* Firmest first. */
        class->kind = "grade";
        class->name = ps_grade_name((ps_grade)(PS_GRADE_COUNT - 1 - (index - CLASS_GRADE)));
    } else if (index == CLASS_NO_PAIR) {
        class->kind = "grade";
        class->name = "no chain";
    }
}

static bool belongs(int index, const ContrastResult *result)
{
    if (index < CLASS_GRADE)
        return (int)result->verdict == index - CLASS_VERDICT;
    if (index < CLASS_NO_PAIR)
        return result->has_grade && (int)result->grade == PS_GRADE_COUNT - 1 - (index - CLASS_GRADE);
    return index == CLASS_ALL || !result->has_grade;
}

static void count_result(ContrastClass *class, const ContrastTask *task, const ContrastResult *result,
                         double *gains)
{
    const ContrastChoice *off = &result->choice[TERM_OFF], *on = &result->choice[TERM_ON];
    class->positions++;
    class->with_answer += task->has_answer;
    class->solved[TERM_OFF] += off->solved;
    class->solved[TERM_ON] += on->solved;
    class->only[TERM_OFF] += off->solved && !on->solved;
    class->only[TERM_ON] += on->solved && !off->solved;
    for (int arm = 0; arm < ARM_COUNT; arm++)
        class->nodes_to_choice[arm] += (double)result->choice[arm].nodes_to_choice;
    if (!result->changed)
        return;
    gains[class->changed++] = contrast_mean_gain(result);
    for (int judge = 0; judge < ARM_COUNT; judge++)
        class->gain[judge] += result->gain[judge];
}

bool contrast_summarise(const ContrastTask *tasks, const ContrastResult *results, size_t count,
                        ContrastClass classes[CLASS_COUNT])
{
    double *gains = malloc((count + 1) * sizeof *gains);
    if (!gains)
        return false;
    for (int c = 0; c < CLASS_COUNT; c++) {
        ContrastClass *class = &classes[c];
        name_class(c, class);
        for (size_t i = 0; i < count; i++)
            if (belongs(c, &results[i]))
                count_result(class, &tasks[i], &results[i], gains);
        for (int arm = 0; arm < ARM_COUNT; arm++) {
            class->gain[arm] = class->changed ? class->gain[arm] / class->changed : NAN;
            class->nodes_to_choice[arm] =
                class->positions ? class->nodes_to_choice[arm] / class->positions : NAN;
        }
        class->mcnemar = mcnemar_exact((uint64_t) class->only[TERM_OFF], (uint64_t) class->only[TERM_ON]);
        class->mean_gain = mean(gains, (size_t) class->changed);
        class->gain_interval = (Interval){NAN, NAN};
        if (class->changed >= FEWEST_CHANGES)
            class->gain_interval =
                bootstrap_mean_interval(gains, (size_t) class->changed, confidence, RESAMPLES, (uint64_t)c);
    }
    free(gains);
    return true;
}

void contrast_sentence(const ContrastClass *class, char *text, size_t size)
{
    char solved[160] = "";
    if (class->positions == 0) {
        snprintf(text, size, "no such position in these suites.");
        return;
    }
    if (class->with_answer > 0)
        snprintf(solved, sizeof solved, "solved %d of %d without the term and %d with it (p = %.2g); ",
                 class->solved[TERM_OFF], class->with_answer, class->solved[TERM_ON], class->mcnemar);
    if (class->changed == 0)
        snprintf(text, size, "%sthe term changed none of %d moves, so it made no difference.", solved,
                 class->positions);
    else if (class->changed < FEWEST_CHANGES)
        snprintf(text, size, "%sthe term changed %d of %d moves: too few to tell whether it helps.", solved,
                 class->changed, class->positions);
    else {
        const Interval *i = &class->gain_interval;
        const char *finding = i->low > 0    ? "it helped"
                              : i->high < 0 ? "it harmed"
                                            : "one cannot tell whether it helps";
        snprintf(text, size,
                 "%sthe term changed %d of %d moves for a mean gain of %+.1f centipawns (95 %%: %+.1f to "
                 "%+.1f): %s.",
                 solved, class->changed, class->positions, class->mean_gain, i->low, i->high, finding);
    }
}
