#include "bench/tune/tune.h"

#include <math.h>

static const double rate_exponent = 0.602, reach_exponent = 0.101;

/* How many steps a parameter is moved in a trial of that round: 1 in the last. */
static double reach_of(const Tuning *tuning, size_t round)
{
    return pow((double)tuning->rounds / (double)(round + 1), reach_exponent);
}

static double rate_of(const Tuning *tuning, size_t round)
{
    double rounds = (double)tuning->rounds, offset = 0.1 * rounds;
    return tuning->rate * pow((offset + rounds) / (offset + (double)round + 1), rate_exponent) /
           reach_of(tuning, round);
}

static int *parameter_at(Parameters *parameters, int index)
{
    return (int *)parameters + index;
}

static double within_bounds(const TunedParameter *t, double value)
{
    const ParameterInfo *info = &parameter_table[t->index];
    return fmin(fmax(value, info->least), info->greatest);
}

/* The whole number below or above, so that the mean is right. */
static int toss(Random *random, double value)
{
    double below = floor(value);
    return (int)below + (random_unit(random) < value - below);
}

void tuning_draw(const Tuning *tuning, size_t round, size_t number, Trial *trial)
{
    Random random = random_for_job(tuning->seed, round * tuning->trials + number);
    double reach = reach_of(tuning, round);
    trial->up = trial->down = tuning->fixed;
    for (int i = 0; i < tuning->count; i++) {
        const TunedParameter *t = &tuning->tuned[i];
        trial->signs[i] = random_below(&random, 2) ? 1 : -1;
        double move = trial->signs[i] * reach * t->step;
        *parameter_at(&trial->up, t->index) = toss(&random, within_bounds(t, t->value + move));
        *parameter_at(&trial->down, t->index) = toss(&random, within_bounds(t, t->value - move));
    }
}

void tuning_learn(Tuning *tuning, size_t round, const Trial *trials)
{
    double rate = rate_of(tuning, round);
    for (int i = 0; i < tuning->count; i++) {
        TunedParameter *t = &tuning->tuned[i];
        int sum = 0;
        for (size_t number = 0; number < tuning->trials; number++)
            sum += trials[number].points * trials[number].signs[i];
        t->value = within_bounds(t, t->value + rate * t->step * sum / 2);
    }
}

Parameters tuning_parameters(const Tuning *tuning)
{
    Parameters parameters = tuning->fixed;
    for (int i = 0; i < tuning->count; i++)
        *parameter_at(&parameters, tuning->tuned[i].index) = (int)lround(tuning->tuned[i].value);
    return parameters;
}
