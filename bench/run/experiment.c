#include "bench/run/experiment.h"
#include "bench/base/command_line.h"

#include <string.h>

/* Fewer pairs say too little about their own variance for a rule that looks at it after every pair: with less
 * the tests' simulations show rates of error just above the nominal ones. */
enum { STOP_PAIRS_LEAST = 100 };

bool experiment_identify(Experiment *experiment)
{
    char built_in[SIGNATURE_SIZE];
    if (!signature_built_in(built_in)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    for (int i = 0; i < experiment->arm_count; i++) {
        const char *program = experiment->arms[i].engine;
        if (!program)
            memcpy(experiment->engines[i], built_in, sizeof built_in);
        else if (!signature_program(program, experiment->engines[i]))
            return false;
    }
    return true;
}

bool stop_reached(const StopRule *rule, const PairCounts *counts)
{
    if (rule->when == STOP_AT_PAIRS || pair_total(counts) < STOP_PAIRS_LEAST)
        return false;
    if (rule->when == STOP_AT_SPRT)
        return sequential_verdict(&rule->test, counts) != VERDICT_GO_ON;
    MatchEstimate estimate = match_estimate(counts, 0.95);
    return estimate.elo_interval.high - estimate.elo_interval.low <= 2 * rule->half_width;
}
