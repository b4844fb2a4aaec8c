#include "bench/run/experiment.h"
#include "bench/base/complaint.h"

#include <string.h>

bool experiment_identify(Experiment *experiment)
{
    char built_in[FINGERPRINT_SIZE];
    if (!fingerprint_built_in(built_in)) {
        complain(NULL, 0, "memory ran out");
        return false;
    }
    for (int i = 0; i < experiment->arm_count; i++) {
        const Arm *arm = &experiment->arms[i];
        if (!arm->engine)
            memcpy(experiment->engines[i], built_in, sizeof built_in);
        else if (!fingerprint_program(arm, experiment->engines[i]))
            return false;
    }
    return true;
}

bool stop_reached(const StopRule *rule, const PairCounts *counts)
{
    if (rule->when == STOP_AT_PAIRS || pair_total(counts) < STOP_PAIRS_LEAST)
        return false;
    if (rule->when == STOP_AT_DECISION)
        return sequential_verdict(&rule->test, counts) != VERDICT_GO_ON;
    MatchEstimate estimate = match_estimate(counts, 0.95);
    return estimate.elo_interval.high - estimate.elo_interval.low <= 2 * rule->half_width;
}
