"""make check-reference: what duel, sweep, merge and report print, beside SciPy and statsmodels.

    /usr/bin/python3 tests/reference/statistics_matches.py BUILD

Plays small runs, reads the pairs from their files, and works every number out again.
"""
import json
import math
import os
import sqlite3
import subprocess
import sys
import tempfile

import numpy as np
from scipy import optimize, stats
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.oneway import anova_generic
from statsmodels.stats.power import NormalIndPower

BENCH = os.path.join(sys.argv[1] if len(sys.argv) > 1 else 'build', 'pawnvane-bench')
SMALL = ['--nodes', '60', '--table', '1', '--adjudicate', 'longest=60', '--quiet']
STRATA = ['--openings', 'bench/openings/strata.epd']
SCORES = np.arange(5) / 4
ELO_NEAR_EVEN = 1600 / math.log(10)
passed = 0
failed = 0


def check(found, expected, tolerance, what):
    global passed, failed
    if found is None:
        found = math.nan
    if abs(found - expected) <= tolerance or (math.isnan(found) and math.isnan(expected)):
        passed += 1
        return
    failed += 1
    print(f'FAILED: {what}: {found}, expected {expected}', file=sys.stderr)


def run(*arguments):
    return json.loads(subprocess.run([BENCH, *arguments], check=True, stdout=subprocess.PIPE, text=True).stdout)


def elo(score):
    return 400 * math.log10(score / (1 - score))


def score_of(difference):
    return 1 / (1 + 10 ** (-difference / 400))


def pairs_of(path):
    """{match: {pair: half points of arm A}}"""
    matches = {}
    with sqlite3.connect(path) as database:
        for match, pair, points in database.execute('SELECT match, pair, points_a FROM pair_result'):
            matches.setdefault(match, {})[pair] = points
    return matches


def guarded_variance(counts):
    """With half a pair more, spread over the five outcomes."""
    counts = np.array(counts) + 0.1
    mean = counts @ SCORES / counts.sum()
    return counts @ (SCORES - mean) ** 2 / (counts.sum() - 1)


def dirichlet_quantile(counts, bound, p):
    counts = np.array(counts, float)
    counts[bound] += 1
    draws = np.random.default_rng(1).dirichlet(np.where(counts > 0, counts, 1e-9), 400000) @ SCORES
    return np.quantile(draws, p)


def check_group(group, name):
    counts = np.array(group['pairs_by_half_points'])
    n = counts.sum()
    values = np.repeat(SCORES - 0.5, counts)
    decided = n - counts[2]
    mean, error = values.mean() + 0.5, math.sqrt(guarded_variance(counts) / n)
    check(group['score'], mean, 1e-6, f'{name}: score')
    check(group['elo'], elo(mean), 1e-5, f'{name}: Elo')
    if decided < 30:
        flips = values[values != 0]
        result = stats.permutation_test((flips,), np.sum, permutation_type='samples', n_resamples=9999) \
            if 0 < len(flips) <= 13 else None
        expected = result.pvalue if result else 1.0 if len(flips) == 0 else group['p']
        check(group['p'], expected, 1e-6, f'{name}: P of sign flips')
        # The binomial test is the same where all pairs that are not ties are of one size.
        if len(set(abs(flips))) == 1:
            check(group['p'], stats.binomtest(int((flips > 0).sum()), len(flips)).pvalue, 1e-6, f'{name}: P')
    else:
        check(group['p'], 2 * stats.t.sf(abs(mean - 0.5) / error, n - 1), 1e-6, f'{name}: P')
        # The guard is worth less than a hundredth part here.
        check(group['p'], stats.ttest_1samp(values, 0).pvalue, 0.02, f'{name}: P without guard')
    if decided < 15:
        check(group['score_low'], dirichlet_quantile(counts, 0, 0.025), 2e-3, f'{name}: bounded mean, low')
        check(group['score_high'], dirichlet_quantile(counts, 4, 0.975), 2e-3, f'{name}: bounded mean, high')
    else:
        low, high = stats.t.interval(0.95, n - 1, mean, error)
        check(group['score_low'], low, 1e-6, f'{name}: low')
        check(group['score_high'], high, 1e-6, f'{name}: high')
        check(group['elo_low'], elo(low), 1e-4, f'{name}: Elo, low')
        check(group['elo_high'], elo(high), 1e-4, f'{name}: Elo, high')
    return mean, error, n


def check_questions(group, effect, margin):
    """Of a group with many pairs that are not ties."""
    counts = np.array(group['pairs_by_half_points'])
    variance = guarded_variance(counts)
    n, mean = counts.sum(), counts @ SCORES / counts.sum()
    error = math.sqrt(variance / n)
    needed = NormalIndPower().solve_power((score_of(effect) - 0.5) / math.sqrt(variance), alpha=0.05, power=0.8, ratio=0)
    check(group['pairs_needed'], needed, 1 + 1e-3 * needed, 'pairs needed')
    tests = [stats.t.sf((mean - score_of(-margin)) / error, n - 1), stats.t.sf((score_of(margin) - mean) / error, n - 1)]
    check(group['p_equivalence'], max(tests), 1e-6, 'two one-sided tests')


def check_heterogeneity(match):
    strata = [g for g in match['strata'] if sum(g['pairs_by_half_points']) - g['pairs_by_half_points'][2] >= 10]
    counts = [np.array(g['pairs_by_half_points']) for g in strata]
    means = np.array([c @ SCORES / c.sum() for c in counts])
    variances = np.array([guarded_variance(c) for c in counts])
    sizes = np.array([c.sum() for c in counts])
    weights = sizes / variances
    q = weights @ (means - weights @ means / weights.sum()) ** 2
    found = match['heterogeneity']
    check(found['q'], q, 1e-5, 'Q')
    check(found['degrees'], len(strata) - 1, 0, 'degrees of Q')
    welch = anova_generic(means, variances, sizes, use_var='unequal', welch_correction=True)
    check(found['p'], welch.pvalue, 1e-5, 'P of Q')


def weighted_holm(p, weights):
    order = np.argsort(np.array(p) / weights)
    adjusted, left, greatest = np.empty(len(p)), sum(weights), 0
    for i in order:
        greatest = max(greatest, min(1, left * p[i] / weights[i]))
        adjusted[i] = greatest
        left -= weights[i]
    return adjusted


def check_adjustment(matches):
    groups, weights = [], []
    for match in matches:
        strata = match['strata'] if len(match['strata']) > 1 else []
        groups += [match['all'], *strata]
        weights += [0.8] + [0.2 / len(strata) for _ in strata]
    p = [g['p'] for g in groups]
    expected = weighted_holm(p, weights)
    if len(set(weights)) == 1:
        check(np.abs(expected - multipletests(p, method='holm')[1]).max(), 0, 1e-12, 'Holm here and in statsmodels')
    for group, adjusted in zip(groups, expected):
        check(group['p_adjusted'], adjusted, 1e-4, f'adjusted P of {group["name"]}')


def check_duel(folder):
    path = os.path.join(folder, 'duel.db')
    arguments = ['duel', *SMALL, *STRATA, '--weight', '400:0', '--rule', 'loose', '--pairs', '300', '--effect', '5', '--margin', '60']
    found = run(*arguments, '--store', path, '--json')
    match = found['matches'][0]
    for group in [match['all'], *match['strata']]:
        check_group(group, group['name'])
    check_questions(match['all'], 5, 60)
    check_heterogeneity(match)
    check_adjustment(found['matches'])
    parts = []
    for share in ('1/2', '2/2'):
        parts.append(os.path.join(folder, f'part-{share[0]}.db'))
        run(*arguments, '--share', share, '--store', parts[-1], '--json')
    merged = run('merge', os.path.join(folder, 'merged.db'), *parts, '--json', '--effect', '5', '--margin', '60')
    check(float(merged == found), 1, 0, 'merge prints what duel prints')
    return path


def check_difference(found, values, unit, name):
    values = np.array(values, float)
    test = stats.ttest_1samp(values, 0)
    low, high = stats.t.interval(0.95, len(values) - 1, values.mean(), stats.sem(values))
    check(found['openings'], len(values), 0, f'{name}: openings')
    check(found['elo'], unit * values.mean(), 1e-5, f'{name}: Elo')
    decided = np.count_nonzero(values)
    if decided >= 15:
        check(found['elo_low'], unit * low, 1e-4, f'{name}: low')
        check(found['elo_high'], unit * high, 1e-4, f'{name}: high')
    if decided >= 30:
        check(found['p'], test.pvalue, 1e-6, f'{name}: P')
    elif 0 < decided <= 13:
        exact = stats.permutation_test((values[values != 0],), np.sum, permutation_type='samples', n_resamples=9999)
        check(found['p'], exact.pvalue, 1e-6, f'{name}: P of sign flips')


def check_sweep(folder, *openings):
    path = os.path.join(folder, f'sweep-{len(openings)}.db')
    found = run('sweep', *SMALL, *openings, '--weights', '100,300,600', '--pairs', '150', '--store', path, '--json')
    pairs, arms = pairs_of(path), found['arms']
    check_adjustment(found['matches'])
    trend_p, reading_p = [], []
    for trend in found['trends_per_100_percent']:
        matches = [i for i, m in enumerate(found['matches']) if arms[m['arm_a']]['rule'] == trend['rule']]
        doses = np.array([arms[found['matches'][i]['arm_a']]['weight'] for i in matches]) / 100
        slopes = [np.linalg.lstsq(doses[:, None], np.array([pairs[i][k] / 4 - 0.5 for i in matches]), rcond=None)[0][0]
                  for k in pairs[0]]
        check_difference(trend, slopes, ELO_NEAR_EVEN, f'trend of {trend["rule"]}')
        trend_p.append(trend['p'])
    for reading in found['strict_less_loose']:
        strict, loose = pairs[reading['strict_match']], pairs[reading['loose_match']]
        check_difference(reading, [(strict[k] - loose[k]) / 4 for k in strict], ELO_NEAR_EVEN, 'strict less loose')
        different = sum(strict[k] != loose[k] for k in strict)
        if different >= 30:
            test = stats.ttest_rel(list(strict.values()), [loose[k] for k in strict])
            check(reading['p'], test.pvalue, 1e-6, 'paired t test')
        reading_p.append(reading['p'])
    check(len(reading_p), 3, 0, 'readings')
    for found_p, raw in ((found['trends_per_100_percent'], trend_p), (found['strict_less_loose'], reading_p)):
        for entry, adjusted in zip(found_p, multipletests(raw, method='holm')[1]):
            check(entry['p_adjusted'], adjusted, 1e-5, 'Holm')


def likelihood_at(mean, counts):
    """The greatest log likelihood of five outcomes with that mean (Owen's dual problem)."""
    counts = np.array(counts) + 1e-3

    def excess(tilt):
        return (counts * (SCORES - mean) / (1 + tilt * (SCORES - mean))).sum()

    tilt = optimize.brentq(excess, -1 / (1 - mean) + 1e-9, 1 / mean - 1e-9, xtol=1e-13)
    return -(counts * np.log(1 + tilt * (SCORES - mean))).sum()


def check_stop():
    found = run('duel', *SMALL, *STRATA, '--nodes', '90:60', '--until', 'decided', '--alternative', '60', '--pairs', '400', '--json')
    match = found['matches'][0]
    counts = np.array(match['all']['pairs_by_half_points'])
    test, n = match['sequential_test'], counts.sum()
    ratio = likelihood_at(score_of(60), counts) - likelihood_at(0.5, counts)
    check(test['log_likelihood_ratio'], ratio, 1e-4, 'log likelihood ratio')
    check(test['high'], -math.log(0.05), 1e-5, 'bound')
    mixture = (-2 * math.log(0.05) + math.log(1 - 2 * math.log(0.05))) / 500
    half = math.sqrt(guarded_variance(counts)) * math.sqrt(
        2 * (n * mixture + 1) / (n ** 2 * mixture) * math.log(math.sqrt(n * mixture + 1) / 0.05))
    mean = counts @ SCORES / n
    check(match['all']['score_low'], mean - half, 1e-6, 'time-uniform, low')
    check(match['all']['score_high'], mean + half, 1e-6, 'time-uniform, high')
    check(match['all']['p'], math.nan, 0, 'no P after a stop')


def check_report(folder, duel):
    shares = {'firm-applies': 5, 'firm-misleading': 3, 'likely': 8, 'doubtful': 4, 'near-miss': 60, 'open-centre': 20}
    path = os.path.join(folder, 'shares')
    with open(path, 'w') as file:
        file.writelines(f'{name} {share}\n' for name, share in shares.items())
    match = run('report', duel, '--weights', path, '--json')['matches'][0]
    total = sum(shares.values())
    mean, variance, fourth = 0, 0, 0
    for group in match['strata']:
        share = shares[group['name']]
        counts = np.array(group['pairs_by_half_points'])
        n, w = counts.sum(), share / total
        error = math.sqrt(guarded_variance(counts) / n) if n - counts[2] >= 15 else \
            (group['score_high'] - group['score_low']) / 2 / stats.norm.ppf(0.975)
        mean += w * (counts @ SCORES / n)
        variance += (w * error) ** 2
        fourth += (w * error) ** 4 / (n - 1)
    low, high = stats.t.interval(0.95, variance ** 2 / fourth, mean, math.sqrt(variance))
    check(match['weighted']['score'], mean, 1e-5, 'weighted score')
    check(match['weighted']['elo_low'], elo(low), 0.02, 'weighted, low')
    check(match['weighted']['elo_high'], elo(high), 0.02, 'weighted, high')


with tempfile.TemporaryDirectory(prefix='pawnvane-statistics-') as place:
    played = check_duel(place)
    check_report(place, played)
    check_sweep(place, *STRATA)
    check_sweep(place)  # openings of one stratum, for which weighted Holm is the plain one
    check_stop()
print(f'statistics of matches: {passed} passed, {failed} failed')
sys.exit(1 if failed or not passed else 0)
