/* Games whose results are drawn from known weights: what --worth says of them can be compared with the truth. */
#ifndef PAWNVANE_TESTS_WORTH_WORLD_H
#define PAWNVANE_TESTS_WORTH_WORLD_H

#include "bench/base/random.h"
#include "bench/fit/fit_model.h"
#include "bench/fit/fit_worth.h"
#include "tests/engine/rules/playout.h"

#include <math.h>
#include <stdlib.h>

/* Locked chains of both directions and several grades, made up for the tests of fits. */
static const char *const locked_starts[] = {
    "r1bqkb1r/pp1n1ppp/2n1p3/2ppP3/3P1P2/2N2N2/PPP3PP/R1BQKB1R w KQkq - 0 7",
    "r1bq1rk1/ppp1npbp/3p1np1/3Pp3/2P1P3/2N2N2/PP2BPPP/R1BQ1RK1 w - - 0 9",
    "r1bqk2r/pp1nbppp/2p1p3/3pPn2/3P4/2N2N2/PPP1BPPP/R1BQ1RK1 b kq - 0 9",
    "r2q1rk1/1b1nbppp/p2ppn2/1p6/2pPP3/P1P2N2/1PBN1PPP/R1BQ1RK1 w - - 0 12",
    "r2qk2r/pb1nbppp/1pp1pn2/2Pp4/1P1P4/P1N1PN2/5PPP/R1BQKB1R b KQkq - 0 9",
};

enum {
    LOCKED_STARTS = sizeof locked_starts / sizeof *locked_starts,
    WORLD_PLIES = 40,
    WORLD_BACK = 8,
    WORLD_EVERY = 4
};

typedef struct WorthWorld {
    FitSample sample;
    FitFeatures features;
    uint32_t *games; /* of rows */
    double truth[FIT_DIMENSION];
} WorthWorld;

static const WorthSettings world_settings = {.scale = 60, .prior = 30, .resamples = 500, .seed = 1};

/* All of the evaluation but material and tempo is left out, so that there are few weights. */
static void keep_few_counts(FitFeatures *features)
{
    for (size_t i = 0; i < features->rows_count; i++) {
        FitRow *row = &features->rows[i];
        FitCount *counts = &features->counts[row->first_count];
        int kept = 0;
        for (int k = 0; k < row->counts; k++)
            if (counts[k].pair < KING || counts[k].pair == offsetof(EvalWeights, tempo) / sizeof(Pair))
                counts[kept++] = counts[k];
        row->counts = kept;
    }
}

static void play_world_game(WorthWorld *world, uint64_t seed, uint32_t game)
{
    Random random = random_for_job(seed, game);
    Position past[WORLD_PLIES + 1];
    past[0] = playout_read(locked_starts[game % LOCKED_STARTS], false);
    for (int ply = 1; ply <= WORLD_PLIES; ply++) {
        Move move = playout_move(&random, &past[ply - 1]);
        if (move == NO_MOVE)
            return;
        past[ply] = past[ply - 1];
        position_play(&past[ply], move);
        const FitPosition position = {.position = past[ply],
                                      .root = past[ply > WORLD_BACK ? ply - WORLD_BACK : 0],
                                      .game = game,
                                      .family = 1,
                                      .score = NO_FIT_SCORE};
        if (ply % WORLD_EVERY == 0 && !fit_sample_add(&world->sample, &position))
            abort();
    }
}

/* A truth that has nothing to do with the present weights of the term; no order is kept. */
static inline WorthWorld worth_world(uint64_t seed, uint32_t games)
{
    static const double truth[PS_WEIGHT_COUNT] = {25, -10, 40, 5, 0, 15, -5, 0, -20, 10, 0,  5,
                                                  0,  0,   0,  0, 6, 16, -4, 0, 40,  90, 100};
    const FitWeights present = {default_weights, ps_default_weights};
    WorthWorld world = {0};
    for (uint32_t game = 1; game <= games; game++)
        play_world_game(&world, seed, game);
    world.games = malloc(world.sample.count * sizeof *world.games);
    fit_to_vector(&present, world.truth);
    if (!world.games || !fit_features_extract(&world.features, &world.sample, &present.eval.units, 1) ||
        !fit_features_linearise(&world.features, &world.sample, &world.truth[FIT_LEVER]))
        abort();
    keep_few_counts(&world.features);
    for (size_t i = 0; i < world.sample.count; i++)
        world.games[i] = world.sample.positions[i].game;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++)
        world.truth[FIT_LEVER + i] = truth[i];
    return world;
}

/* Each row's result has the probability that the truth gives it, and those of a game hang together as closely as
 * they can: one number decides them all. */
static inline void worth_world_draw(WorthWorld *world, uint64_t seed, double scale)
{
    Random random = random_seeded(seed);
    double luck = 0;
    for (size_t i = 0; i < world->features.rows_count; i++) {
        FitRow *row = &world->features.rows[i];
        if (i == 0 || world->games[i] != world->games[i - 1])
            luck = random_unit(&random);
        double score = fit_row_score(&world->features, row, world->truth);
        row->result = luck < 1 / (1 + exp(-score / scale)) ? 1.0F : 0.0F;
    }
}

static inline void worth_world_free(WorthWorld *world)
{
    fit_sample_free(&world->sample);
    fit_features_free(&world->features);
    free(world->games);
}

#endif
