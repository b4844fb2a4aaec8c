#include "bench/report/stratum_weights.h"
#include "bench/base/complaint.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char left_out[] = "other";

static bool add_weight(StratumWeights *weights, const char *path, long line, const char *name, double weight)
{
    if (!(weight >= 0) || isinf(weight)) {
        complain(path, line, "the weight of %s is no number of 0 or more; expected such a share or count",
                 name);
        return false;
    }
    if (strcmp(name, left_out) == 0)
        return true;
    for (int i = 0; i < weights->count; i++)
        if (strcmp(weights->names[i], name) == 0) {
            complain(path, line, "the stratum %s is there twice; expected it once", name);
            return false;
        }
    if (weights->count == STRATA_MAX) {
        complain(path, line, "there are too many strata; expected %d at most", STRATA_MAX);
        return false;
    }
    weights->names[weights->count] = strdup(name);
    weights->shares[weights->count] = weight;
    if (weights->names[weights->count++])
        return true;
    complain(path, line, "memory ran out");
    return false;
}

static bool read_lines(StratumWeights *weights, const char *path, char *text)
{
    long line = 0;
    for (char *next = text, *at; (at = strsep(&next, "\n"));) {
        char name[64], end;
        double weight;
        line++;
        at[strcspn(at, "#")] = '\0';
        if (at[strspn(at, " \t\r")] == '\0')
            continue;
        if (sscanf(at, "%63s %lf %c", name, &weight, &end) != 2) {
            complain(path, line, "the line is \"%.60s\"; expected the name of a stratum and a number", at);
            return false;
        }
        if (!add_weight(weights, path, line, name, weight))
            return false;
    }
    return true;
}

static bool read_census(StratumWeights *weights, const char *path, const char *text)
{
    cJSON *object = cJSON_Parse(text);
    const cJSON *strata = cJSON_GetObjectItemCaseSensitive(object, "strata"), *stratum;
    bool good = cJSON_IsObject(strata);
    if (!good)
        complain(path, 0,
                 "has no \"strata\"; expected what census --json has printed, or lines of a stratum and a "
                 "number");
    else
        cJSON_ArrayForEach(stratum, strata)
        {
            good = good && add_weight(weights, path, 0, stratum->string, cJSON_GetNumberValue(stratum));
        }
    cJSON_Delete(object);
    return good;
}

static char *whole_file(const char *path)
{
    char *text = NULL;
    size_t size = 0;
    FILE *file = fopen(path, "r");
    if (!file || getdelim(&text, &size, '\0', file) < 0) {
        complain(path, 0, "cannot be read: %s", file && !ferror(file) ? "it is empty" : strerror(errno));
        free(text);
        text = NULL;
    }
    if (file)
        fclose(file);
    return text;
}

bool stratum_weights_read(StratumWeights *weights, const char *path)
{
    double sum = 0;
    *weights = (StratumWeights){0};
    char *text = whole_file(path);
    if (!text)
        return false;
    bool good = text[strspn(text, " \t\r\n")] == '{' ? read_census(weights, path, text)
                                                     : read_lines(weights, path, text);
    free(text);
    for (int i = 0; i < weights->count; i++)
        sum += weights->shares[i];
    if (good && !(sum > 0)) {
        complain(path, 0, "no stratum has a weight; expected one above 0 at least");
        return false;
    }
    for (int i = 0; good && i < weights->count; i++)
        weights->shares[i] /= sum;
    return good;
}

void stratum_weights_free(StratumWeights *weights)
{
    for (int i = 0; i < weights->count; i++)
        free(weights->names[i]);
    *weights = (StratumWeights){0};
}

static double share_of(const StratumWeights *weights, const char *name)
{
    for (int i = 0; i < weights->count; i++)
        if (strcmp(weights->names[i], name) == 0)
            return weights->shares[i];
    return 0;
}

bool stratum_weights_fit(const StratumWeights *weights, const StoredRun *run, const char *path)
{
    for (int i = 0; i < run->stratum_count; i++)
        if (share_of(weights, run->strata[i]) > 0)
            return true;
    complain(path, 0, "weights no stratum of the run; expected some of its strata, such as %s",
             run->stratum_count > 0 ? run->strata[0] : "those of its openings");
    return false;
}

static double standard_error(const MatchEstimate *e)
{
    return e->decided >= BOUNDED_DECIDED
               ? e->standard_error
               : (e->score_interval.high - e->score_interval.low) / 2 / normal_quantile(0.975);
}

WeightedEstimate weighted_estimate(const StratumWeights *weights, const MatchSummary *summary)
{
    WeightedEstimate weighted = {0, NAN, NAN, {NAN, NAN}};
    double sum = 0, variance = 0, fourth = 0;
    for (int i = 0; i < summary->stratum_count && !summary->sequential; i++) {
        const MatchEstimate *e = &summary->strata[i].estimate;
        double share = share_of(weights, summary->strata[i].name);
        if (e->pairs < 2 || share == 0)
            continue;
        double square = pow(share * standard_error(e), 2);
        weighted.covered += share;
        sum += share * e->score;
        variance += square;
        fourth += square * square / ((double)e->pairs - 1);
    }
    if (weighted.covered == 0)
        return weighted;
    double half = student_quantile(0.975, fmax(1, variance * variance / fourth)) * sqrt(variance);
    Interval score = {fmax(0, (sum - half) / weighted.covered), fmin(1, (sum + half) / weighted.covered)};
    weighted.score = sum / weighted.covered;
    weighted.elo = elo_from_score(weighted.score);
    weighted.elo_interval = (Interval){elo_from_score(score.low), elo_from_score(score.high)};
    return weighted;
}
