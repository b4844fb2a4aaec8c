#include "bench/fit/fit_features.h"
#include "bench/base/array.h"
#include "bench/base/parallel.h"
#include "engine/evaluation/evaluate.h"
#include "engine/evaluation/structure_view.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --------------------------------------------------------------------------------- the weights of the
 * evaluation The sum of the evaluation is linear in its weights with small whole numbers. So a few of them
 * can be read off one sum, like digits: weight number i of a group is set to RADIX to the power of i. A count
 * is at most 56 in size, by eight passed pawns of one rank, seven king steps each, so that digits are
 * unambiguous and no sum overflows. */

enum { RADIX = 128, GROUP = 4, GROUP_COUNT = (PAIR_COUNT + GROUP - 1) / GROUP, BLOCK = 2048 };

typedef struct Worker {
    Evaluator evaluator;
    EvalWeights weights;
    int8_t counts[BLOCK][GROUP_COUNT * GROUP];
} Worker;

typedef struct Extraction {
    const EvalUnits *units;
    FitFeatures *features;
    const FitSample *sample;
} Extraction;

/* Makes room for more rows, counts or slopes. False if memory runs out. */
#define reserve(features, what, more)                                                                        \
    array_reserve((features)->what, (features)->what##_capacity, (features)->what##_count, more)

void fit_features_free(FitFeatures *features)
{
    free(features->rows);
    free(features->counts);
    free(features->slopes);
    *features = (FitFeatures){0};
}

static void read_digits(int sum, int8_t digits[GROUP])
{
    for (int i = 0; i < GROUP; i++) {
        int digit = ((sum % RADIX) + RADIX + RADIX / 2) % RADIX - RADIX / 2;
        digits[i] = (int8_t)digit;
        sum = (sum - digit) / RADIX;
    }
}

/* The pawn table remembers scores under the weights, so a group is read for many positions at a time. */
static void count_group(Worker *worker, int group, const FitPosition *positions, size_t count)
{
    Pair *weights = (Pair *)&worker->weights;
    memset(weights, 0, PAIR_COUNT * sizeof *weights);
    for (int i = 0, digit = 1; i < GROUP && group * GROUP + i < PAIR_COUNT; i++, digit *= RADIX)
        weights[group * GROUP + i] = digit;
    pawn_table_reset(&worker->evaluator.pawns, &worker->weights, PS_STRICT);
    for (size_t i = 0; i < count; i++)
        read_digits(evaluate_sum(&worker->evaluator, &positions[i].position),
                    &worker->counts[i][group * GROUP]);
}

/* Tapering is linear in each half, so what it does to round numbers tells the shares. */
static FitRow tapered_row(const FitPosition *position, const EvalUnits *u)
{
    enum { PHASES = 24, CHANCES = 64, UNIT = PHASES * CHANCES };
    const Position *p = &position->position;
    return (FitRow){
        .middlegame = (float)evaluate_taper(p, u, PAIR(UNIT, 0)) / UNIT,
        .endgame = {[WHITE] = (float)evaluate_taper(p, u, PAIR(0, UNIT)) / UNIT,
                    [BLACK] = (float)evaluate_taper(p, u, PAIR(0, -UNIT)) / -UNIT},
        .result = (float)position->white_points / 2,
        .score = position->score,
        .held_out = fit_held_out(position->family),
    };
}

static bool add_row(FitFeatures *features, const FitPosition *position, const Worker *worker,
                    const int8_t counts[PAIR_COUNT])
{
    if (!reserve(features, rows, 1) || !reserve(features, counts, PAIR_COUNT))
        return false;
    FitRow *row = &features->rows[features->rows_count++];
    *row = tapered_row(position, &worker->weights.units);
    row->first_count = features->counts_count;
    for (int i = 0; i < PAIR_COUNT; i++) {
        if (counts[i])
            features->counts[features->counts_count++] = (FitCount){(uint16_t)i, counts[i]};
    }
    row->counts = (int)(features->counts_count - row->first_count);
    return true;
}

static size_t block_size(const FitSample *sample, size_t index)
{
    size_t left = sample->count - index * BLOCK;
    return left < BLOCK ? left : BLOCK;
}

static Taken take_block(void *context, size_t index, void *item)
{
    (void)item;
    return index * BLOCK < ((Extraction *)context)->sample->count ? TAKEN_ITEM : TAKEN_END;
}

static bool run_block(void *context, void *own, size_t index, void *item)
{
    const FitSample *sample = ((Extraction *)context)->sample;
    const FitPosition *positions = &sample->positions[index * BLOCK];
    size_t count = block_size(sample, index);
    Worker *worker = own;
    FitFeatures *features = item;
    for (int group = 0; group < GROUP_COUNT; group++)
        count_group(worker, group, positions, count);
    for (size_t i = 0; i < count; i++)
        if (!add_row(features, &positions[i], worker, worker->counts[i]))
            return false;
    return true;
}

static bool deliver_block(void *context, size_t index, void *item)
{
    FitFeatures *all = ((Extraction *)context)->features, *part = item;
    (void)index;
    bool good = reserve(all, rows, part->rows_count) && reserve(all, counts, part->counts_count);
    if (good) {
        for (size_t i = 0; i < part->rows_count; i++)
            part->rows[i].first_count += all->counts_count;
        memcpy(&all->rows[all->rows_count], part->rows, part->rows_count * sizeof *all->rows);
        memcpy(&all->counts[all->counts_count], part->counts, part->counts_count * sizeof *all->counts);
        all->rows_count += part->rows_count;
        all->counts_count += part->counts_count;
    }
    fit_features_free(part);
    return good;
}

static void discard_block(void *context, void *item)
{
    (void)context;
    fit_features_free(item);
}

static void worker_free(void *context, void *own)
{
    (void)context;
    Worker *worker = own;
    pawn_table_destroy(&worker->evaluator.pawns);
    free(worker);
}

static void *worker_new(void *context)
{
    Worker *worker = calloc(1, sizeof *worker);
    if (!worker)
        return NULL;
    worker->weights.units = *((Extraction *)context)->units;
    worker->evaluator.weights = &worker->weights;
    if (pawn_table_create(&worker->evaluator.pawns, &worker->weights, PS_STRICT))
        return worker;
    free(worker);
    return NULL;
}

bool fit_features_extract(FitFeatures *features, const FitSample *sample, const EvalUnits *units, int workers)
{
    Extraction extraction = {units, features, sample};
    return parallel_run(&(Parallel){.workers = workers,
                                    .item_size = sizeof(FitFeatures),
                                    .context = &extraction,
                                    .take = take_block,
                                    .run = run_block,
                                    .deliver = deliver_block,
                                    .discard = discard_block,
                                    .worker_new = worker_new,
                                    .worker_free = worker_free});
}

/* ------------------------------------------------------------------------------------------- the lever
 * weights With the grades held, the term is linear in all weights but for the choice of the best lever; so
 * slopes are differences. The term works in whole numbers: weights are blown up so that nothing is rounded
 * (percent and sixteenths divide FINE), and that a step is too small to change the choice except between
 * equals. */

enum { FINE = 1600, SCALE = 16 * FINE };

static bool is_grade(int weight)
{
    return ps_weight_table[weight].offset >= offsetof(ps_weights, grade);
}

static bool is_fixed(int weight)
{
    return ps_weight_table[weight].least == ps_weight_table[weight].greatest;
}

static ps_weights blown_up(const double lever[PS_WEIGHT_COUNT])
{
    ps_weights weights;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        bool grade = is_grade(i);
        *ps_weight_at(&weights, i) =
            grade ? (int)lround(lever[i]) : FINE * (int)lround(lever[i] * SCALE / FINE);
    }
    return weights;
}

static bool add_slopes(FitFeatures *features, FitRow *row, const Position *p, const ps_intent *intent,
                       const ps_skeleton *skeleton, ps_weights *weights)
{
    double sign = position_turn(p) == WHITE ? 1 : -1;
    ps_board board;
    structure_view(p, &board);
    int base = ps_intent_term(intent, skeleton, &board, weights);
    if (!reserve(features, slopes, PS_WEIGHT_COUNT))
        return false;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        if (is_fixed(i))
            continue;
        int *weight = ps_weight_at(weights, i), step = is_grade(i) ? 1 : FINE;
        *weight += step;
        int difference = ps_intent_term(intent, skeleton, &board, weights) - base;
        *weight -= step;
        if (difference == 0)
            continue;
        double slope = sign * difference / (is_grade(i) ? SCALE : FINE);
        features->slopes[features->slopes_count++] = (FitSlope){i, (float)slope};
        /* The other slopes make up the whole term already. */
        if (is_grade(i))
            row->constant -= (float)(slope * *weight);
    }
    return true;
}

bool fit_features_linearise(FitFeatures *features, const FitSample *sample,
                            const double lever[PS_WEIGHT_COUNT])
{
    ps_weights weights = blown_up(lever);
    features->slopes_count = 0;
    for (size_t i = 0; i < features->rows_count; i++) {
        const Position *p = &sample->positions[i].position, *root = &sample->positions[i].root;
        FitRow *row = &features->rows[i];
        const uint64_t pawns[2] = {position_men(p, WHITE, PAWN), position_men(p, BLACK, PAWN)};
        ps_skeleton skeleton;
        ps_intent intent = {0};
        ps_read_skeleton(&skeleton, pawns, PS_STRICT);
        if (root->key != p->key) {
            ps_board board;
            structure_view(root, &board);
            ps_intend(&intent, &board, PS_STRICT, &weights);
        }
        row->first_slope = features->slopes_count;
        row->constant = 0;
        bool silent = ps_is_silent(&skeleton) && !ps_has_intent(&intent);
        if (!silent && !add_slopes(features, row, p, &intent, &skeleton, &weights))
            return false;
        row->slopes = (int)(features->slopes_count - row->first_slope);
    }
    return true;
}
