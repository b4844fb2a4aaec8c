#include "bench/run/run_comparison.h"
#include "bench/base/bounded_mean.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double confidence = 0.95, level = 0.05;

static const StoredMatch *stored(MatchOf match)
{
    return &match.run->matches[match.index];
}

static const StoredArm *arm_a(MatchOf match)
{
    return &match.run->arms[stored(match)->arm_a];
}

static const StoredArm *arm_b(MatchOf match)
{
    return &match.run->arms[stored(match)->arm_b];
}

/* --------------------------------------------------------------------------------------- like with like */

static bool same_player(const StoredArm *a, const StoredArm *b)
{
    return a->nodes == b->nodes && strcmp(a->parameters, b->parameters) == 0 &&
           strcmp(a->engine, b->engine) == 0;
}

bool match_is_dose(MatchOf match)
{
    return arm_b(match)->weight == 0 && arm_a(match)->weight != 0 && same_player(arm_a(match), arm_b(match));
}

static bool may_differ(const char *setting)
{
    static const char *const names[] = {"kind", "seed", "share", "pairs", "openings hash"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(setting, names[i]) == 0)
            return true;
    return strncmp(setting, "until", 5) == 0;
}

/* Whether the other run has each setting of the one, and so. */
static bool has_settings_of(const StoredRun *one, const StoredRun *other)
{
    for (int i = 0; i < one->setting_count; i++) {
        const StoredSetting *setting = &one->settings[i];
        const char *value = stored_setting(other, setting->name);
        if (!may_differ(setting->name) && (!value || strcmp(setting->value, value) != 0))
            return false;
    }
    return true;
}

bool matches_are_alike(MatchOf a, MatchOf b)
{
    return has_settings_of(a.run, b.run) && has_settings_of(b.run, a.run) &&
           same_player(arm_a(a), arm_a(b)) && same_player(arm_b(a), arm_b(b));
}

/* ----------------------------------------------------------------------------------- opening by opening */

enum { TIE = PAIR_OUTCOMES / 2 }; /* half points */

typedef struct Seen {
    const char *opening;
    int points; /* half points of arm A less those of a tie, -2 to 2 */
} Seen;

static int by_opening(const void *a, const void *b)
{
    return strcmp(((const Seen *)a)->opening, ((const Seen *)b)->opening);
}

/* The finished pairs by opening; null if memory runs out. */
static Seen *seen_in(MatchOf match, size_t *count)
{
    Seen *seen = calloc(stored(match)->count + 1, sizeof *seen);
    *count = 0;
    if (!seen)
        return NULL;
    for (size_t i = 0; i < stored(match)->count; i++) {
        const StoredPair *pair = &stored(match)->pairs[i];
        if ((size_t)pair->pair < match.run->opening_count && match.run->openings[pair->pair])
            seen[(*count)++] = (Seen){match.run->openings[pair->pair], pair->points_a - TIE};
    }
    qsort(seen, *count, sizeof *seen, by_opening);
    return seen;
}

/* Adds `factor` times the second list's points to the first's and drops what the second has not. Returns how
 * many are left. */
static size_t combine(Seen *into, size_t count, const Seen *other, size_t other_count, int factor)
{
    size_t kept = 0;
    for (size_t i = 0, k = 0; i < count; i++) {
        while (k < other_count && by_opening(&other[k], &into[i]) < 0)
            k++;
        if (k < other_count && by_opening(&other[k], &into[i]) == 0)
            into[kept++] = (Seen){into[i].opening, into[i].points + factor * other[k].points};
    }
    return kept;
}

size_t openings_shared(MatchOf a, MatchOf b)
{
    size_t a_count, b_count, shared = 0;
    Seen *a_seen = seen_in(a, &a_count), *b_seen = seen_in(b, &b_count);
    if (a_seen && b_seen)
        shared = combine(a_seen, a_count, b_seen, b_count, 0);
    free(a_seen);
    free(b_seen);
    return shared;
}

/* --------------------------------------------------------------------------------- means of differences */

/* Elo of a difference of 1 in the score, near an even one. */
static const double elo_of_score = 1600 / M_LN10;

static int by_points(const void *a, const void *b)
{
    int x = ((const Seen *)a)->points, y = ((const Seen *)b)->points;
    return (x > y) - (x < y);
}

typedef struct Moments {
    double mean, error; /* standard error of the mean */
    size_t decided;     /* that are not 0 */
} Moments;

static Moments moments_of(const Seen *values, size_t count)
{
    double sum = 0, squares = 0;
    Moments moments = {0};
    for (size_t i = 0; i < count; i++) {
        sum += values[i].points;
        moments.decided += values[i].points != 0;
    }
    moments.mean = sum / (double)count;
    for (size_t i = 0; i < count; i++)
        squares += pow(values[i].points - moments.mean, 2);
    moments.error = sqrt(squares / (double)(count - 1) / (double)count);
    return moments;
}

static void test_exactly(Difference *difference, const Seen *values, size_t count)
{
    int flips[EXACT_DECIDED], mirrored[EXACT_DECIDED];
    size_t decided = 0;
    for (size_t i = 0; i < count; i++)
        if (values[i].points != 0) {
            flips[decided] = values[i].points;
            mirrored[decided] = -values[i].points;
            decided++;
        }
    difference->p_value = two_sided(sign_flip_upper(flips, decided), sign_flip_upper(mirrored, decided));
}

/* Sorts them. */
static Interval bounded_interval(Seen *values, size_t count, double bound)
{
    Counted counted[BOUNDED_DECIDED + 1];
    size_t kinds = 0;
    qsort(values, count, sizeof *values, by_points);
    for (size_t i = 0; i < count; i++) {
        if (kinds == 0 || counted[kinds - 1].value != values[i].points)
            counted[kinds++] = (Counted){values[i].points, 0};
        counted[kinds - 1].count++;
    }
    return bounded_mean_interval(counted, kinds, (Interval){-bound, bound}, confidence);
}

/* The mean of whole numbers, of which none is greater than the bound, with their unit in Elo. */
static Difference mean_of(Seen *values, size_t count, double bound, double unit)
{
    Difference difference = {.openings = count, .paired = true};
    if (count < 2)
        return (Difference){.elo = NAN, .interval = {NAN, NAN}, .p_value = 1, .p_adjusted = 1};
    Moments moments = moments_of(values, count);
    double degrees = (double)count - 1, t = moments.mean / moments.error;
    double half = student_quantile(0.5 + confidence / 2, degrees) * moments.error;
    if (moments.decided < EXACT_DECIDED)
        test_exactly(&difference, values, count);
    else
        difference.p_value = two_sided(student_upper(t, degrees), student_upper(-t, degrees));
    difference.interval = moments.decided < BOUNDED_DECIDED || moments.error == 0
                              ? bounded_interval(values, count, bound)
                              : (Interval){moments.mean - half, moments.mean + half};
    difference.elo = unit * moments.mean;
    difference.interval = (Interval){unit * difference.interval.low, unit * difference.interval.high};
    difference.p_adjusted = difference.p_value;
    return difference;
}

/* A half point of a pair. */
static double elo_of_half_point(void)
{
    return elo_of_score / (PAIR_OUTCOMES - 1);
}

static Difference independent(const MatchEstimate *a, const MatchEstimate *b)
{
    double a_square = pow(a->standard_error, 2), b_square = pow(b->standard_error, 2);
    double error = sqrt(a_square + b_square), difference = a->score - b->score;
    double degrees = pow(a_square + b_square, 2) /
                     (pow(a_square, 2) / ((double)a->pairs - 1) + pow(b_square, 2) / ((double)b->pairs - 1));
    double half = student_quantile(0.5 + confidence / 2, degrees) * error, t = difference / error;
    double p = two_sided(student_upper(t, degrees), student_upper(-t, degrees));
    uint64_t fewer = a->pairs < b->pairs ? a->pairs : b->pairs;
    return (Difference){(size_t)fewer,
                        elo_of_score * difference,
                        {elo_of_score * (difference - half), elo_of_score * (difference + half)},
                        p,
                        p,
                        false};
}

static MatchEstimate whole(MatchOf match)
{
    PairCounts counts = {{0}};
    for (size_t i = 0; i < stored(match)->count; i++)
        counts.n[stored(match)->pairs[i].points_a]++;
    return match_estimate(&counts, confidence);
}

Difference match_difference(MatchOf a, MatchOf b)
{
    Difference difference = {.elo = NAN, .interval = {NAN, NAN}, .p_value = 1, .p_adjusted = 1};
    size_t a_count, b_count;
    Seen *a_seen = seen_in(a, &a_count), *b_seen = seen_in(b, &b_count);
    size_t shared = a_seen && b_seen ? combine(a_seen, a_count, b_seen, b_count, -1) : 0;
    MatchEstimate one = whole(a), other = whole(b);
    if (shared >= FINDING_PAIRS)
        difference = mean_of(a_seen, shared, PAIR_OUTCOMES - 1, elo_of_half_point());
    else if (one.pairs >= FINDING_PAIRS && other.pairs >= FINDING_PAIRS)
        difference = independent(&one, &other);
    free(a_seen);
    free(b_seen);
    return difference;
}

bool difference_is_finding(const Difference *difference)
{
    return difference->openings >= FINDING_PAIRS && difference->p_adjusted < level;
}

/* ------------------------------------------------------------------------------------ dose and response */

static bool has_reading(MatchOf match, ps_rule rule)
{
    return match_is_dose(match) && strcmp(arm_a(match)->rule, ps_rule_name(rule)) == 0;
}

/* The sum over the doses of weight times half points, of every opening that they all have; null if there is
 * none. */
static Seen *weighted_sums(const StoredRun *run, ps_rule rule, size_t *count, Trend *trend, double *squares,
                           double *weights)
{
    Seen *sums = NULL;
    for (int i = 0; i < run->match_count; i++) {
        MatchOf match = {run, i};
        size_t other_count;
        if (!has_reading(match, rule))
            continue;
        int weight = arm_a(match)->weight;
        Seen *other = seen_in(match, &other_count);
        if (!sums) {
            sums = other;
            *count = other_count;
            for (size_t k = 0; sums && k < other_count; k++)
                sums[k].points *= weight;
        } else if (other) {
            *count = combine(sums, *count, other, other_count, weight);
            free(other);
        }
        *squares += (double)weight * weight;
        *weights += weight;
        trend->doses++;
    }
    return sums;
}

bool run_trends(const StoredRun *run, Trend trends[PS_RULE_COUNT])
{
    double p_values[PS_RULE_COUNT] = {0};
    int found = 0;
    for (int rule = 0; rule < PS_RULE_COUNT; rule++) {
        size_t count = 0;
        double squares = 0, weights = 0;
        trends[rule] = (Trend){0};
        Seen *sums = weighted_sums(run, rule, &count, &trends[rule], &squares, &weights);
        if (!sums && trends[rule].doses > 0)
            return false;
        if (trends[rule].doses >= 2) {
            trends[rule].slope = mean_of(sums, count, TIE * weights, 100 * elo_of_half_point() / squares);
            p_values[found++] = trends[rule].slope.p_value;
        }
        free(sums);
    }
    holm_adjust(p_values, (size_t)found, p_values);
    for (int rule = 0, i = 0; rule < PS_RULE_COUNT; rule++)
        if (trends[rule].doses >= 2)
            trends[rule].slope.p_adjusted = p_values[i++];
    return true;
}

/* ------------------------------------------------------------------------------------- strict and loose */

/* Which loose match goes with a strict one: of the same weight, alike, and with most openings in common. */
static bool find_loose(const MatchOf *matches, int count, MatchOf strict, MatchOf *loose)
{
    size_t most = 0;
    bool found = false;
    for (int i = 0; i < count; i++) {
        if (!has_reading(matches[i], PS_LOOSE) || run_is_sequential(matches[i].run) ||
            arm_a(matches[i])->weight != arm_a(strict)->weight || !matches_are_alike(strict, matches[i]))
            continue;
        size_t shared = openings_shared(strict, matches[i]);
        if (!found || shared > most) {
            *loose = matches[i];
            most = shared;
        }
        found = true;
    }
    return found;
}

int reading_pairs(const MatchOf *matches, int count, ReadingPair **pairs)
{
    int found = 0;
    double *p_values = calloc((size_t)count + 1, sizeof *p_values);
    *pairs = calloc((size_t)count + 1, sizeof **pairs);
    if (!p_values || !*pairs) {
        free(p_values);
        return -1;
    }
    for (int i = 0; i < count; i++) {
        ReadingPair *pair = &(*pairs)[found];
        if (!has_reading(matches[i], PS_STRICT) || run_is_sequential(matches[i].run) ||
            !find_loose(matches, count, matches[i], &pair->loose))
            continue;
        pair->strict = matches[i];
        pair->difference = match_difference(pair->strict, pair->loose);
        p_values[found++] = pair->difference.p_value;
    }
    holm_adjust(p_values, (size_t)found, p_values);
    for (int i = 0; i < found; i++)
        (*pairs)[i].difference.p_adjusted = p_values[i];
    free(p_values);
    return found;
}
