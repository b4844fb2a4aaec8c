#include "bench/run/obedience.h"

#include <math.h>
#include <stdlib.h>

static const double confidence = 0.95;

const char *const obedience_kind_names[OBEDIENCE_KIND_COUNT] = {"applies", "weak", "misleading", "unasked"};

const char obedience_unasked_words[] = "Unasked: where the verdict is misleading at the start, pushes that "
                                       "the plan at that point did not name either.";

/* Which sides of which pairs are looked at, and which of their pushes. */
typedef struct Choice {
    unsigned kinds; /* set of NamedKind */
    int stratum;    /* -1: all */
    bool unasked;   /* only pushes that were not asked for */
} Choice;

/* Room for what is worked out of the pairs of a match. */
typedef struct Bench {
    double *sums;
    size_t *sizes;
    int *plies[2];
    double *shares[2]; /* how often each arm played it, pair by pair */
} Bench;

static bool chosen(const Choice *choice, const StoredPair *pair, Side side)
{
    return (choice->stratum < 0 || pair->stratum == choice->stratum) &&
           (choice->kinds >> pair->named[side].kind & 1) != 0;
}

static int compare_ints(const void *a, const void *b)
{
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

static double median(int *values, size_t count)
{
    if (count == 0)
        return NAN;
    qsort(values, count, sizeof *values, compare_ints);
    size_t lower = (count - 1) / 2, upper = count / 2;
    return (values[lower] + values[upper]) / 2.0;
}

static ObedienceGroup count_group(const StoredMatch *match, Choice choice, Bench *bench)
{
    ObedienceGroup group = {.sides = 0};
    size_t clusters = 0;
    for (size_t i = 0; i < match->count; i++) {
        const StoredPair *pair = &match->pairs[i];
        size_t sides = 0;
        int played[2] = {0, 0};
        for (Side side = WHITE; side <= BLACK; side++) {
            if (!chosen(&choice, pair, side))
                continue;
            sides++;
            for (int arm = 0; arm < 2; arm++) {
                const StoredNamed *named = &pair->named[side];
                if (named->plies[arm] == 0 || (choice.unasked && named->asked[arm]))
                    continue;
                played[arm]++;
                bench->plies[arm][group.played[arm]++] = named->plies[arm];
            }
        }
        bench->sums[i] = played[0] - played[1];
        bench->sizes[i] = sides;
        bench->shares[0][i] = played[0];
        bench->shares[1][i] = played[1];
        group.sides += sides;
        clusters += sides > 0;
    }
    for (int arm = 0; arm < 2; arm++)
        group.plies[arm] = median(bench->plies[arm], group.played[arm]);
    group.difference = clustered_mean(bench->sums, bench->sizes, match->count, confidence);
    group.ratio = clustered_ratio(bench->shares[0], bench->shares[1], match->count, clusters, confidence);
    return group;
}

bool obedience_of(const StoredRun *run, const StoredMatch *match, Obedience *obedience)
{
    static const unsigned live = 1U << NAMED_APPLIES | 1U << NAMED_WEAK;
    size_t pairs = match->count + 1;
    Bench bench = {
        .sums = malloc(pairs * sizeof *bench.sums),
        .sizes = malloc(pairs * sizeof *bench.sizes),
        .plies = {malloc(2 * pairs * sizeof *bench.plies[0]), malloc(2 * pairs * sizeof *bench.plies[0])},
        .shares = {malloc(pairs * sizeof *bench.shares[0]), malloc(pairs * sizeof *bench.shares[0])},
    };
    bool good =
        bench.sums && bench.sizes && bench.plies[0] && bench.plies[1] && bench.shares[0] && bench.shares[1];
    if (good) {
        *obedience = (Obedience){.stratum_count = run->stratum_count};
        obedience->live = count_group(match, (Choice){.kinds = live, .stratum = -1}, &bench);
        for (int i = 0; i < (int)NAMED_KIND_COUNT; i++)
            obedience->kinds[i] = count_group(match, (Choice){.kinds = 1U << i, .stratum = -1}, &bench);
        obedience->kinds[OBEDIENCE_UNASKED] = count_group(
            match, (Choice){.kinds = 1U << NAMED_MISLEADING, .stratum = -1, .unasked = true}, &bench);
        for (int i = 0; i < run->stratum_count; i++)
            obedience->strata[i] = count_group(match, (Choice){.kinds = live, .stratum = i}, &bench);
    }
    free(bench.sums);
    free(bench.sizes);
    for (int arm = 0; arm < 2; arm++) {
        free(bench.plies[arm]);
        free(bench.shares[arm]);
    }
    return good;
}
