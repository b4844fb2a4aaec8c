#include "bench/fit/fit_worth.h"
#include "bench/base/complaint.h"
#include "bench/base/random.h"
#include "bench/base/symmetric.h"
#include "bench/fit/fit_newton.h"

#include <stdlib.h>
#include <string.h>

#define INDEX(member) (FIT_LEVER + (int)(offsetof(ps_weights, member) / sizeof(int)))

/* What is asked: a sum of weights. */
typedef struct Question {
    Worth *answer;
    int count;
    struct {
        int weight;
        double times;
    } terms[4];
} Question;

enum { QUESTIONS_MAX = PS_WEIGHT_COUNT + WORTH_STEP_COUNT };

/* Rows by game: games are numbered 0 .. count - 1 in the order in which they appear. */
typedef struct Games {
    size_t count;
    size_t *of_row;
} Games;

static bool no_memory(void)
{
    complain(NULL, 0, "memory ran out for the fit");
    return false;
}

static bool number_games(Games *games, const FitFeatures *features, const uint32_t *game_of_row)
{
    uint32_t last = 0;
    for (size_t i = 0; i < features->rows_count; i++)
        last = game_of_row[i] > last ? game_of_row[i] : last;
    size_t *number = calloc((size_t)last + 1, sizeof *number); /* from 1 */
    games->of_row = calloc(features->rows_count + 1, sizeof *games->of_row);
    games->count = 0;
    bool good = number && games->of_row;
    for (size_t i = 0; good && i < features->rows_count; i++) {
        size_t *at = &number[game_of_row[i]];
        if (*at == 0)
            *at = ++games->count;
        games->of_row[i] = *at - 1;
    }
    free(number);
    return good || no_memory();
}

/* ------------------------------------------------------------------------------- which weights are free */

typedef struct Seen {
    size_t positions, games;
    size_t last_game; /* from 1 */
} Seen;

static void see(Seen *seen, size_t game)
{
    seen->positions++;
    seen->games += seen->last_game != game + 1;
    seen->last_game = game + 1;
}

/* Rows of a game stand together. */
static void count_seen(Seen seen[NEWTON_DIMENSION], const FitFeatures *features, const Games *games)
{
    for (size_t i = 0; i < features->rows_count; i++) {
        const FitRow *row = &features->rows[i];
        for (int k = 0; k < row->counts; k++)
            see(&seen[2 * features->counts[row->first_count + (size_t)k].pair], games->of_row[i]);
        for (int k = 0; k < row->slopes; k++)
            see(&seen[FIT_LEVER + features->slopes[row->first_slope + (size_t)k].weight], games->of_row[i]);
        if (row->slopes > 0)
            see(&seen[FIT_WHOLE], games->of_row[i]);
    }
    for (int i = 0; i < FIT_LEVER; i += 2)
        seen[i + 1] = seen[i];
}

/* A weight with a prior needs no more than one position. */
static void set_columns(FitNewton *n, const Seen seen[NEWTON_DIMENSION])
{
    n->columns = 0;
    for (int i = 0; i < NEWTON_DIMENSION; i++) {
        bool free = i < FIT_LEVER ? seen[i].positions > 0
                                  : seen[i].games >= WORTH_GAMES_LEAST && n->whole == (i == FIT_WHOLE);
        n->column_of[i] = free ? n->columns : -1;
        if (free)
            n->weight_of[n->columns++] = i;
    }
}

/* -------------------------------------------------------------------------------------------- the answers */

/* What each game adds to the optimum's answer to each question: influences[question * games + game]. */
static bool find_influences(double *influences, const FitNewton *n, const Games *games,
                            const Question *questions, int count)
{
    size_t columns = (size_t)n->columns;
    double *directions = calloc((size_t)count * columns + 1, sizeof *directions);
    NewtonEntry entries[NEWTON_ENTRIES_MAX];
    if (!directions)
        return no_memory();
    for (int q = 0; q < count; q++) {
        double *direction = &directions[(size_t)q * columns];
        for (int i = 0; i < questions[q].count; i++)
            direction[n->column_of[questions[q].terms[i].weight]] += questions[q].terms[i].times;
        symmetric_solve(n->factor, n->columns, direction);
    }
    for (size_t i = 0; i < n->features->rows_count; i++) {
        double push;
        int entry_count = fit_newton_row(n, &n->features->rows[i], entries, &push);
        for (int q = 0; q < count; q++) {
            double sum = 0;
            for (int k = 0; k < entry_count; k++)
                sum += directions[(size_t)q * columns + (size_t)entries[k].column] * entries[k].value;
            influences[(size_t)q * games->count + games->of_row[i]] -= push * sum;
        }
    }
    free(directions);
    return true;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The quantile of sorted values between neighbours: definition 7 of R. Hyndman and Y. Fan, "Sample Quantiles in
 * Statistical Packages", American Statistician 50, 1996 (from memory). */
static double quantile(const double *sorted, int count, double p)
{
    double at = p * (count - 1);
    int low = (int)at;
    return low + 1 < count ? sorted[low] + (at - low) * (sorted[low + 1] - sorted[low]) : sorted[low];
}

static void spread(Worth *answer, double *off, int count)
{
    double sum = 0, squares = 0;
    for (int i = 0; i < count; i++)
        sum += off[i];
    for (int i = 0; i < count; i++)
        squares += (off[i] - sum / count) * (off[i] - sum / count);
    answer->error = sqrt(squares / (count - 1));
    qsort(off, (size_t)count, sizeof *off, by_size);
    answer->interval =
        (Interval){answer->value + quantile(off, count, 0.025), answer->value + quantile(off, count, 0.975)};
}

static bool resample(const Question *questions, int count, const double *influences, size_t games,
                     const WorthSettings *settings)
{
    size_t resamples = (size_t)settings->resamples;
    double *off = calloc((size_t)count * resamples + 1, sizeof *off);
    int *drawn = calloc(games + 1, sizeof *drawn);
    if (!off || !drawn) {
        free(off);
        free(drawn);
        return no_memory();
    }
    for (size_t b = 0; b < resamples; b++) {
        Random random = random_for_job(settings->seed, b);
        memset(drawn, 0, games * sizeof *drawn);
        for (size_t k = 0; k < games; k++)
            drawn[random_below(&random, games)]++;
        for (int q = 0; q < count; q++) {
            const double *influence = &influences[(size_t)q * games];
            double sum = 0;
            for (size_t k = 0; k < games; k++)
                sum += (drawn[k] - 1) * influence[k];
            off[(size_t)q * resamples + b] = sum;
        }
    }
    for (int q = 0; q < count; q++)
        spread(questions[q].answer, &off[(size_t)q * resamples], settings->resamples);
    free(off);
    free(drawn);
    return true;
}

/* Questions about weights that are held stay without an answer. */
static int answerable(const FitNewton *n, Question *questions, int count)
{
    int kept = 0;
    for (int q = 0; q < count; q++) {
        bool known = true;
        for (int i = 0; i < questions[q].count; i++)
            known &= n->column_of[questions[q].terms[i].weight] >= 0;
        questions[q].answer->known = known;
        if (known)
            questions[kept++] = questions[q];
    }
    return kept;
}

static bool answer(FitNewton *n, const Games *games, Question *questions, int count,
                   const WorthSettings *settings)
{
    count = answerable(n, questions, count);
    if (count == 0)
        return true;
    NewtonEnd end = fit_newton(n);
    double *influences = calloc((size_t)count * games->count + 1, sizeof *influences);
    bool good = false;
    if (end == NEWTON_LOST)
        complain(NULL, 0,
                 "the games do not tell how much the weights are worth; expected more games, or weights that "
                 "do not all count in the same positions");
    else if (end == NEWTON_NO_MEMORY || !influences)
        no_memory();
    else
        good = find_influences(influences, n, games, questions, count);
    for (int q = 0; good && q < count; q++) {
        questions[q].answer->value = 0;
        for (int i = 0; i < questions[q].count; i++)
            questions[q].answer->value +=
                questions[q].terms[i].times * n->weights[questions[q].terms[i].weight];
    }
    good = good && resample(questions, count, influences, games->count, settings);
    free(influences);
    free(n->factor);
    n->factor = NULL;
    return good;
}

/* ------------------------------------------------------------------------------------------ the questions */

static void ask_of(Worth *worth, const Seen *seen)
{
    *worth = (Worth){.games = seen->games, .positions = seen->positions};
}

typedef struct Usual {
    double support, room, piece; /* for each time that the lever counts fully */
    size_t positions, games, last_game;
} Usual;

/* Adds a row if one side alone has a base lever that scores, and nobody a head lever. */
static void see_usual(Usual *usual, const FitFeatures *features, const FitRow *row, size_t game)
{
    const FitSlope *slopes = &features->slopes[row->first_slope];
    double base = 0, support = 0, room = 0, piece = 0;
    for (int i = 0; i < row->slopes; i++) {
        int weight = FIT_LEVER + slopes[i].weight;
        double slope = (double)slopes[i].slope;
        if (weight < INDEX(support) && (weight >= INDEX(head_lever) || base != 0))
            return;
        *(weight < INDEX(head_lever) ? &base
          : weight == INDEX(support) ? &support
          : weight == INDEX(room)    ? &room
                                     : &piece) = slope;
        if (weight == INDEX(piece))
            break;
    }
    if (base == 0)
        return;
    usual->support += support / base;
    usual->room += room / base;
    usual->piece += piece / base;
    usual->positions++;
    usual->games += usual->last_game != game + 1;
    usual->last_game = game + 1;
}

static Question ask_usual(FitWorth *worth, const FitFeatures *features, const Games *games)
{
    Usual usual = {0, 0, 0, 0, 0, 0};
    Worth *answer = &worth->steps[WORTH_BASE_USUAL];
    for (size_t i = 0; i < features->rows_count; i++)
        see_usual(&usual, features, &features->rows[i], games->of_row[i]);
    double count = usual.positions > 0 ? (double)usual.positions : 1;
    *answer = (Worth){.games = usual.games, .positions = usual.positions};
    worth->usual[0] = usual.support / count;
    worth->usual[1] = usual.room / count * PS_ROOM_UNITS;
    worth->usual[2] = usual.piece / count;
    return (Question){answer,
                      4,
                      {{INDEX(base_lever[1]), 1},
                       {INDEX(support), usual.support / count},
                       {INDEX(room), usual.room / count},
                       {INDEX(piece), usual.piece / count}}};
}

static int ask_parts(Question questions[QUESTIONS_MAX], FitWorth *worth, const Seen seen[NEWTON_DIMENSION])
{
    static const struct {
        int played, ready;
        bool done;
    } steps[WORTH_BASE_USUAL] = {
        [WORTH_BASE_PLAYED] = {INDEX(base_lever[0]), INDEX(base_lever[1]), false},
        [WORTH_BASE_DONE] = {INDEX(base_lever[0]), INDEX(base_lever[1]), true},
        [WORTH_HEAD_PLAYED] = {INDEX(head_lever[0]), INDEX(head_lever[1]), false},
        [WORTH_HEAD_DONE] = {INDEX(head_lever[0]), INDEX(head_lever[1]), true},
    };
    int count = 0;
    for (int i = 0; i < PS_WEIGHT_COUNT; i++) {
        ask_of(&worth->weights[i], &seen[FIT_LEVER + i]);
        double times = FIT_LEVER + i == INDEX(room) ? 1.0 / PS_ROOM_UNITS : 1;
        questions[count++] = (Question){&worth->weights[i], 1, {{FIT_LEVER + i, times}}};
    }
    for (int i = 0; i < WORTH_BASE_USUAL; i++) {
        ask_of(&worth->steps[i], &seen[steps[i].played]);
        questions[count++] =
            (Question){&worth->steps[i],
                       steps[i].done ? 3 : 2,
                       {{steps[i].played, 1}, {steps[i].ready, -1}, {INDEX(support), PS_SURPLUS_MOST}}};
    }
    return count;
}

static bool answer_all(FitWorth *worth, FitNewton *n, const Games *games, Seen seen[NEWTON_DIMENSION],
                       const WorthSettings *settings)
{
    Question questions[QUESTIONS_MAX];
    count_seen(seen, n->features, games);
    set_columns(n, seen);
    int count = ask_parts(questions, worth, seen);
    questions[count] = ask_usual(worth, n->features, games);
    count += worth->steps[WORTH_BASE_USUAL].positions > 0;
    if (!answer(n, games, questions, count, settings))
        return false;
    n->whole = true;
    set_columns(n, seen);
    ask_of(&worth->whole, &seen[FIT_WHOLE]);
    questions[0] = (Question){&worth->whole, 1, {{FIT_WHOLE, 1}}};
    return answer(n, games, questions, 1, settings);
}

bool fit_worth(FitWorth *worth, const FitFeatures *features, const uint32_t *games, const FitWeights *weights,
               const WorthSettings *settings)
{
    Games numbered;
    FitNewton *n = calloc(1, sizeof *n);
    Seen *seen = calloc(NEWTON_DIMENSION, sizeof *seen);
    bool good = number_games(&numbered, features, games);
    if (good && !(n && seen))
        good = no_memory();
    if (good) {
        n->features = features;
        n->scale = settings->scale;
        n->pull = (double)features->rows_count / ((double)numbered.count * settings->prior * settings->prior);
        fit_to_vector(weights, n->centre);
        n->centre[FIT_WHOLE] = 100;
        memcpy(n->weights, n->centre, sizeof n->weights);
        *worth = (FitWorth){.games = numbered.count, .positions = features->rows_count};
        good = answer_all(worth, n, &numbered, seen, settings);
    }
    free(numbered.of_row);
    free(seen);
    free(n);
    return good;
}
