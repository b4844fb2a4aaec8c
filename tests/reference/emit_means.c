/* Writes values that are drawn at random, and what bench/base/means.h makes of them, as JSON, a case a line,
 * for statistics_estimates.py to work out by itself. */
#include "bench/base/means.h"
#include "tests/statistics/contrast_worlds.h"

#include <stdio.h>

enum { VALUES_MAX = 100, RESAMPLES = 39999, CLUSTERS = 40 };

static void write_values(const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        printf("%s%.17g", i ? "," : "", values[i]);
}

static void emit_bootstrap(World world, size_t count)
{
    double values[VALUES_MAX];
    BootstrapMean mean;
    Random random = random_for_job(world, count);
    for (size_t i = 0; i < count; i++)
        values[i] = draw_gain(world, &random) + 0.01;
    if (!bootstrap_mean(values, count, 0.95, RESAMPLES, 1, &mean))
        return;
    printf("{\"kind\":\"bootstrap\",\"values\":[");
    write_values(values, count);
    printf("],\"mean\":%.17g,\"low\":%.17g,\"high\":%.17g,\"p\":%.17g}\n", mean.mean, mean.interval.low,
           mean.interval.high, mean.p_value);
}

static void emit_clusters(uint64_t seed)
{
    Random random = random_seeded(seed);
    double values[VALUES_MAX], sums[CLUSTERS] = {0}, common[CLUSTERS];
    size_t clusters[VALUES_MAX], sizes[CLUSTERS] = {0};
    for (int i = 0; i < CLUSTERS; i++)
        common[i] = draw_normal(&random);
    for (int i = 0; i < VALUES_MAX; i++) {
        clusters[i] = random_below(&random, CLUSTERS);
        values[i] = common[clusters[i]] + draw_normal(&random);
        sums[clusters[i]] += values[i];
        sizes[clusters[i]]++;
    }
    ClusteredMean mean = clustered_mean(sums, sizes, CLUSTERS, 0.95);
    printf("{\"kind\":\"clusters\",\"values\":[");
    write_values(values, VALUES_MAX);
    printf("],\"clusters\":[");
    for (int i = 0; i < VALUES_MAX; i++)
        printf("%s%zu", i ? "," : "", clusters[i]);
    printf("],\"mean\":%.17g,\"error\":%.17g,\"low\":%.17g,\"high\":%.17g}\n", mean.mean, mean.error,
           mean.interval.low, mean.interval.high);
}

/* How often two arms did something in pairs of games: each on up to two sides of a pair, of the same two. */
static void emit_ratio(uint64_t seed)
{
    Random random = random_seeded(seed);
    double played[2][CLUSTERS] = {{0}};
    int sides[CLUSTERS];
    size_t clusters = 0;
    for (int i = 0; i < CLUSTERS; i++) {
        uint64_t common = random_below(&random, 60);
        sides[i] = (int)random_below(&random, 3);
        clusters += sides[i] > 0;
        for (int side = 0; side < sides[i]; side++)
            for (int arm = 0; arm < 2; arm++)
                played[arm][i] += random_below(&random, 100) < common + (arm == 0 ? 30 : 10);
    }
    ClusteredRatio ratio = clustered_ratio(played[0], played[1], CLUSTERS, clusters, 0.95);
    printf("{\"kind\":\"ratio\",\"sides\":[");
    for (int i = 0; i < CLUSTERS; i++)
        printf("%s%d", i ? "," : "", sides[i]);
    for (int arm = 0; arm < 2; arm++) {
        printf("],\"%s\":[", arm == 0 ? "above" : "below");
        write_values(played[arm], CLUSTERS);
    }
    printf("],\"ratio\":%.17g,\"low\":%.17g,\"high\":%.17g}\n", ratio.ratio, ratio.interval.low,
           ratio.interval.high);
}

int main(void)
{
    static const size_t sizes[] = {10, 20, 35, 100};
    for (int world = 0; world < (int)WORLD_COUNT; world++)
        for (int i = 0; i < 4; i++)
            emit_bootstrap((World)world, sizes[i]);
    for (uint64_t seed = 1; seed <= 20; seed++)
        emit_clusters(seed);
    for (uint64_t seed = 1; seed <= 20; seed++)
        emit_ratio(seed);
    return 0;
}
