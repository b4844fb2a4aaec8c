#include "bench/nearer/nearer.h"
#include "bench/contrast/judge.h"

#include <stdlib.h>

static const double confidence = 0.95;

int nearer_distance(int score, int deep)
{
    return clamp(abs(judged_cut_off(score) - judged_cut_off(deep)), 0, NEARER_DISTANCE_MOST);
}

static int same_move(const ChosenMove *own, const ChosenMove *deep)
{
    return own->move == deep->move;
}

static int distance(const ChosenMove *own, const ChosenMove *deep)
{
    return nearer_distance(own->score, deep->score);
}

/* What is asked of a choice. */
typedef int Question(const ChosenMove *own, const ChosenMove *deep);

/* Sums by unit of what arm A's choices come to `a` times, and B's `b` times. */
static ClusteredMean mean_of(const NearerChoices *choices, const size_t *units, size_t count, Question *ask,
                             int a, int b, double *sums, const size_t *sizes, size_t unit_count)
{
    for (size_t i = 0; i < unit_count; i++)
        sums[i] = 0;
    for (size_t i = 0; i < count; i++) {
        const ChosenMove *by = choices[i].by;
        sums[units[i]] += a * ask(&by[NEARER_A], &by[NEARER_DEEP]) + b * ask(&by[NEARER_B], &by[NEARER_DEEP]);
    }
    return clustered_mean(sums, sizes, unit_count, confidence);
}

bool nearer_summarise(const NearerChoices *choices, const size_t *units, size_t count, size_t unit_count,
                      NearerSummary *summary)
{
    double *sums = calloc(unit_count + 1, sizeof *sums);
    size_t *sizes = calloc(unit_count + 1, sizeof *sizes);
    bool good = sums && sizes;
    *summary = (NearerSummary){.positions = count, .units = unit_count};
    for (size_t i = 0; good && i < count; i++)
        sizes[units[i]]++;
    const struct {
        Question *ask;
        NearerNumber *number;
    } questions[] = {{same_move, &summary->same_move}, {distance, &summary->distance}};
    for (int i = 0; good && i < 2; i++) {
        Question *ask = questions[i].ask;
        *questions[i].number =
            (NearerNumber){.arm = {mean_of(choices, units, count, ask, 1, 0, sums, sizes, unit_count),
                                   mean_of(choices, units, count, ask, 0, 1, sums, sizes, unit_count)},
                           .difference = mean_of(choices, units, count, ask, 1, -1, sums, sizes, unit_count)};
    }
    free(sums);
    free(sizes);
    return good;
}
