/* Worlds from which values are drawn whose mean is known to be 0: what gains of changed moves may look like
 * where the term neither helps nor harms. */
#ifndef PAWNVANE_TESTS_CONTRAST_WORLDS_H
#define PAWNVANE_TESTS_CONTRAST_WORLDS_H

#include "bench/base/random.h"
#include "bench/contrast/contrast_summary.h"

#include <math.h>

typedef enum World { NORMAL, SKEWED, MANY_ZEROS, HEAVY_TAILS, WORLD_COUNT } World;

static const char *const world_names[WORLD_COUNT] = {"normal", "skewed (exponential)", "many zeros (60 %)",
                                                     "discrete heavy tails (t3)"};

static inline double draw_normal(Random *random)
{
    return sqrt(-2 * log(1 - random_unit(random))) * cos(2 * acos(-1) * random_unit(random));
}

/* In winning chances: a standard deviation of 2 to 5 %. */
static inline double draw_gain(World world, Random *random)
{
    double normal, chi_square = 0;
    switch (world) {
    case SKEWED:
        return 0.03 * (-log(1 - random_unit(random)) - 1);
    case MANY_ZEROS:
        return random_unit(random) < 0.6 ? 0 : 0.03 * draw_normal(random);
    case HEAVY_TAILS:
        normal = draw_normal(random);
        for (int i = 0; i < 3; i++)
            chi_square += pow(draw_normal(random), 2);
        return 0.01 * round(3 * normal / sqrt(chi_square / 3));
    default:
        return 0.03 * draw_normal(random);
    }
}

/* How many of `samples` intervals of the mean of so many gains hold 0. */
static inline int count_covered(World world, size_t gains, int samples, uint64_t seed)
{
    enum { GAINS_MAX = 100, RESAMPLES = 1999 };
    Random random = random_seeded(seed);
    int covered = 0;
    for (int i = 0; i < samples; i++) {
        double values[GAINS_MAX];
        BootstrapMean mean;
        for (size_t j = 0; j < gains; j++)
            values[j] = draw_gain(world, &random);
        if (!bootstrap_mean(values, gains, 0.95, RESAMPLES, (uint64_t)i, &mean))
            return -1;
        covered += mean.interval.low <= 0 && mean.interval.high >= 0;
    }
    return covered;
}

/* The changed moves of both shipped suites at 40,000 nodes, by class. */
static const struct {
    ps_verdict verdict;
    bool has_grade;
    ps_grade grade;
    int changes;
} suite_changes[] = {{PS_APPLIES, true, PS_FIRM, 16},   {PS_APPLIES, true, PS_LIKELY, 4},
                     {PS_MISLEADING, true, PS_FIRM, 4}, {PS_MISLEADING, true, PS_LIKELY, 2},
                     {PS_WEAK, true, PS_DOUBTFUL, 5},   {PS_NONE, true, PS_VOID, 2},
                     {PS_NONE, false, PS_VOID, 1}};

enum { SUITE_CHANGES = 34, SUITE_TIMES_MAX = 3 };

/* In how many of so many experiments some class is said to be helped or harmed. Each has the changed moves of
 * the suites `times` times. */
static inline int count_claims(World world, int times, int experiments, uint64_t seed)
{
    static const ContrastTask tasks[SUITE_CHANGES * SUITE_TIMES_MAX];
    static ContrastResult results[SUITE_CHANGES * SUITE_TIMES_MAX];
    Random random = random_seeded(seed);
    int claims = 0;
    for (int i = 0; i < experiments; i++) {
        ContrastClass classes[CLASS_COUNT];
        size_t count = 0;
        bool claimed = false;
        for (size_t row = 0; row < sizeof suite_changes / sizeof *suite_changes; row++) {
            for (int k = 0; k < times * suite_changes[row].changes; k++) {
                double gain = draw_gain(world, &random);
                results[count++] = (ContrastResult){.verdict = suite_changes[row].verdict,
                                                    .has_grade = suite_changes[row].has_grade,
                                                    .grade = suite_changes[row].grade,
                                                    .changed = true,
                                                    .judged = {.win = {gain, gain}}};
            }
        }
        if (!contrast_summarise(tasks, results, count, classes))
            return -1;
        for (int c = 0; c < CLASS_COUNT; c++)
            claimed |= contrast_finding(&classes[c]) != FINDING_OPEN;
        claims += claimed;
    }
    return claims;
}

#endif
