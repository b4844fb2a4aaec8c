/* What the intervals of contrast cover, and how often it claims an effect where there is none, in worlds
 * where the truth is known. Status 1 if that is not what contrast_summary.h says. */
#include "tests/statistics/contrast_worlds.h"

#include <stdio.h>

enum { SAMPLES = 4000, EXPERIMENTS = 2000 };

static const size_t sizes[] = {10, 20, 35, 100};
enum { SIZES = sizeof sizes / sizeof *sizes };

/* How much contrast_summary.h says at most. */
static double greatest_coverage(World world, size_t size)
{
    return world == MANY_ZEROS && size <= 35 ? 0.995 : world == HEAVY_TAILS && size <= 20 ? 0.98 : 0.97;
}

static bool print_coverage(World world)
{
    bool good = true;
    printf("%-28s", world_names[world]);
    for (int i = 0; i < SIZES; i++) {
        int covered = count_covered(world, sizes[i], SAMPLES, 100 * (uint64_t)world + sizes[i]);
        double share = (double)covered / SAMPLES;
        printf(" %8.1f", 100 * share);
        good &= share >= 0.93 && share <= greatest_coverage(world, sizes[i]);
        fflush(stdout);
    }
    puts("");
    return good;
}

static bool print_claims(World world)
{
    bool good = true;
    printf("%-28s", world_names[world]);
    for (int times = 1; times <= SUITE_TIMES_MAX; times += SUITE_TIMES_MAX - 1) {
        int claims = count_claims(world, times, EXPERIMENTS, 1000 + 10 * (uint64_t)world + (uint64_t)times);
        printf(" %8.1f", 100.0 * claims / EXPERIMENTS);
        good &= claims >= 0 && claims <= 0.06 * EXPERIMENTS;
        fflush(stdout);
    }
    puts("");
    return good;
}

int main(void)
{
    bool good = true;
    printf("contrast: percent of 95 %% intervals that cover the true mean gain, %d samples a cell (error "
           "0.3)\n%-28s",
           SAMPLES, "changed moves");
    for (int i = 0; i < SIZES; i++)
        printf(" %8zu", sizes[i]);
    puts("");
    for (int world = 0; world < (int)WORLD_COUNT; world++)
        good &= print_coverage((World)world);
    printf("\ncontrast: percent of experiments without any effect in which some class \"helped\" or "
           "\"harmed\", %d a cell (error 0.5)\n%-28s %8d %8d\n",
           EXPERIMENTS, "changed moves", SUITE_CHANGES, SUITE_CHANGES * SUITE_TIMES_MAX);
    for (int world = 0; world < (int)WORLD_COUNT; world++)
        good &= print_claims((World)world);
    puts(good ? "\nAll within bounds." : "\nOUT OF BOUNDS.");
    return !good;
}
