"""Works out by itself, with numpy, scipy and statsmodels, what contrast, fit and census print as estimates.

    python3 tests/reference/statistics_estimates.py BUILD_DIR
"""
import csv
import io
import json
import os
import re
import subprocess
import sys
import tempfile

import numpy
import scipy.optimize
import scipy.stats
import statsmodels.api as models
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

passed = failed = 0


def check(good, message):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(message)


def close(a, b, tolerance):
    return abs(a - b) <= tolerance


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def bootstrap_t(values, resamples=200000):
    """The wider of the equal-tailed and the symmetric bootstrap-t interval, and the greater p-value."""
    n = len(values)
    mean, error = values.mean(), values.std(ddof=1) / n ** 0.5
    random = numpy.random.default_rng(1)
    t = []
    for _ in range(resamples // 2000):
        drawn = values[random.integers(0, n, (2000, n))]
        spread = drawn.std(axis=1, ddof=1)
        flat = drawn.max(axis=1) == drawn.min(axis=1)
        off = drawn.mean(axis=1) - mean
        far = numpy.where(numpy.abs(off) < 1e-15, 0, numpy.copysign(numpy.inf, off))
        t.append(numpy.where(flat, far, off / numpy.where(flat, 1, spread) * n ** 0.5))
    t = numpy.concatenate(t)
    quantile = lambda values, p: numpy.quantile(values, p, method='inverted_cdf')
    reach = quantile(abs(t), 0.95)
    low = mean - max(reach, quantile(t, 0.975)) * error
    high = mean + max(reach, -quantile(t, 0.025)) * error
    seen = mean / error
    p = max((abs(t) >= abs(seen)).mean(), 2 * min((t >= seen).mean(), (t <= seen).mean()))
    return mean, low, high, min(1, p), error


def compare_bootstrap(case, name):
    mean, low, high, p, error = bootstrap_t(numpy.array(case['values']))
    check(close(case['mean'], mean, 1e-12), f'{name}: mean {case["mean"]}, numpy {mean}')
    # Both draw at random: within a tenth of a standard error, and a few hundredths in the tails of few values.
    slack = 0.1 + 2 / len(case['values'])
    for key, value in (('low', low), ('high', high)):
        check(close(case[key], value, slack * error), f'{name}: {key} {case[key]}, numpy {value}, error {error}')
    check(close(case['p'], p, 0.006), f'{name}: p {case["p"]}, numpy {p}')


def compare_clusters(case, name):
    values, clusters = numpy.array(case['values']), numpy.array(case['clusters'])
    fit = models.OLS(values, numpy.ones(len(values))).fit(
        cov_type='cluster', cov_kwds={'groups': clusters, 'use_correction': True}, use_t=True)
    (low, high), error = fit.conf_int()[0], fit.bse[0]
    for key, value, tolerance in (('mean', fit.params[0], 1e-12), ('error', error, 1e-12),
                                  ('low', low, 1e-5 * error), ('high', high, 1e-5 * error)):
        check(close(case[key], value, tolerance), f'{name}: {key} {case[key]}, statsmodels {value}')


def compare_ratio(case, name):
    """A Poisson regression of one outcome for each arm and side, with errors clustered by pair."""
    outcomes, arms, pairs = [], [], []
    for pair, sides in enumerate(case['sides']):
        for arm, played in ((1, case['above'][pair]), (0, case['below'][pair])):
            outcomes += [side < played for side in range(sides)]
            arms += [arm] * sides
            pairs += [pair] * sides
    fit = models.GLM(numpy.array(outcomes, float), models.add_constant(numpy.array(arms, float)),
                     family=models.families.Poisson()).fit(
        tol=1e-14, maxiter=200, cov_type='cluster', cov_kwds={'groups': numpy.array(pairs), 'use_correction': False})
    groups = len(set(pairs))
    reach = scipy.stats.t.ppf(0.975, groups - 1) * fit.bse[1] * (groups / (groups - 1)) ** 0.5
    for key, value in (('ratio', fit.params[1]), ('low', fit.params[1] - reach), ('high', fit.params[1] + reach)):
        check(close(numpy.log(case[key]), value, 1e-6), f'{name}: {key} {case[key]}, statsmodels {numpy.exp(value)}')


def compare_means(emitter):
    kinds = {'bootstrap': compare_bootstrap, 'clusters': compare_clusters, 'ratio': compare_ratio}
    for number, line in enumerate(run(emitter).splitlines()):
        case = json.loads(line)
        kinds[case['kind']](case, f'case {number}')


def classes_of(position):
    yield 'verdict', position['verdict']
    yield 'grade', position['grade'] or 'no chain'
    yield 'all', 'all positions'


def compare_contrast(bench, suites):
    lines = [json.loads(line) for line in
             run(bench, 'contrast', *suites, '--nodes', '2000', '--weight', '1000', '--json', '--quiet').splitlines()]
    gains = {}
    for position in (line for line in lines if 'fen' in line and line['changed']):
        for name in classes_of(position):
            gains.setdefault(name, []).append(position['gain']['win'])
    tested = []
    for line in (line for line in lines if 'positions' in line):
        kind = next(key for key in ('verdict', 'grade', 'all') if key in line)
        values = gains.get((kind, line[kind]), [])
        check(len(values) == line['changed'], f'{kind} {line[kind]}: {line["changed"]} changed, counted {len(values)}')
        if line['win_p'] is None:
            check(len(values) < 10, f'{kind} {line[kind]}: no p-value of {len(values)} changes')
            continue
        tested.append(line)
        compare_class(line, numpy.array(values), f'contrast, {line[kind]}')
    adjusted = multipletests([line['win_p'] for line in tested], method='holm')[1]
    for line, expected in zip(tested, adjusted):
        check(close(line['win_p_holm'], expected, 5e-5), f'Holm: {line["win_p_holm"]}, statsmodels {expected}')
    check(len(tested) >= 4, f'only {len(tested)} classes have ten changes')
    check(any('judged_again' in line for line in lines), 'nothing was judged again')


def compare_class(line, values, name):
    """With 1999 resamples ends are sure to about 5 % of the width, p-values to about 0.02."""
    mean, low, high, p, error = bootstrap_t(values)
    check(close(line['win_mean'], mean, 2e-5), f'{name}: mean {line["win_mean"]}, numpy {mean}')
    for key, value in (('win_low', low), ('win_high', high)):
        check(close(line[key], value, (0.25 + 3 / len(values)) * error), f'{name}: {key} {line[key]}, numpy {value}')
    check(close(line['win_p'], p, 0.03), f'{name}: p {line["win_p"]}, numpy {p}')


def compare_fit(bench, folder):
    """The scale of what the search thought, by the likelihood of the games that are fitted."""
    sample = os.path.join(folder, 'sample.epd')
    printed = run(bench, 'fit', '--games', '40', '--nodes', '200', '--steps', '4', '--sample', sample, '--quiet')
    scores, results = [], []
    for line in open(sample):
        if line.startswith('#'):
            continue
        score = int(re.search(r' ce (-?\d+);', line)[1])
        game = int(re.search(r' c8 "(\d+)";', line)[1])
        result = {'1-0': 1, '1/2-1/2': 0.5, '0-1': 0}[re.search(r' c9 "([^"]+)";', line)[1]]
        if game % 5:
            scores.append(score if line.split()[1] == 'w' else -score)
            results.append(result)
    z, goal = numpy.array(scores), numpy.array(results)
    loss = lambda scale: numpy.mean(numpy.logaddexp(0, z / scale) - goal * z / scale)
    best = scipy.optimize.minimize_scalar(loss, bounds=(10, 5000), method='bounded', options={'xatol': 1e-4}).x
    scale = float(re.search(r'of what the search thought ([\d.]+)', printed)[1])
    check(close(scale, best, 0.06 + 1e-4 * best), f'scale of the search: {scale}, scipy {best}')


def compare_census(bench, emitter, folder):
    path = os.path.join(folder, 'games.pgn')
    with open(path, 'w') as file:
        file.write(run(emitter, '2000'))
    games = [json.loads(line) for line in run(bench, 'census', path, '--games', '--quiet').splitlines()]
    rows = list(csv.reader(io.StringIO(run(bench, 'census', path, '--csv', '--quiet'))))
    table = {(row[1], row[2]): row[3] for row in rows if row[0] == 'results'}
    first = {(row[1], row[2]): row[3] for row in rows if row[0] == 'first'}
    count, named = {}, []
    for game in games:
        moment = game['first_de']
        if not moment:
            continue
        landmark = moment['ply'] + 20
        played = {side: moment[side]['base_played'] for side in ('white', 'black')}
        for side in ('white', 'black'):
            live = moment[side]['status'] in ('ready', 'open', 'unsupported', 'obstructed')
            if live and game['plies'] > landmark and game['result'] != '*':
                soon = played[side] is not None and played[side] <= landmark
                won = game['result'] == {'white': '1-0', 'black': '0-1'}[side]
                drawn = game['result'] == '1/2-1/2'
                cell = count.setdefault((side, soon), [0, 0, 0])
                cell[0 if won else 1 if drawn else 2] += 1
        sides = [side for side in played if played[side]]
        if sides and moment['first_to_break']:
            named.append((min(sides, key=lambda side: played[side]), moment['first_to_break']))
    for side in ('white', 'black'):
        for soon, word in ((True, 'played'), (False, 'not played')):
            won, drawn, lost = count.get((side, soon), [0, 0, 0])
            name, all_games = f'{side}, {word}', won + drawn + lost
            check(all_games > 5, f'{name}: only {all_games} games')
            for key, value in (('Games', all_games), ('Won', won), ('Drawn', drawn), ('Lost', lost)):
                check(int(table[name, key]) == value, f'{name}: {key} {table[name, key]}, counted {value}')
            low, high = proportion_confint(won, all_games, method='wilson')
            expected = f'{100 * low:.1f} to {100 * high:.1f}'
            check(table[name, '95 % interval'] == expected, f'{name}: {table[name, "95 % interval"]}, {expected}')
    right = sum(side == guess for side, guess in named)
    usual = max(('white', 'black'), key=lambda side: sum(was == side for was, _ in named))
    check(int(first['as the count of tempi said', 'Games']) == right, f'the count was right in {right} games')
    check(int(first[f'always {usual.capitalize()}, in these games', 'Games'])
          == sum(was == usual for was, _ in named), f'{usual} is the usual side')


def main(build):
    bench = os.path.join(build, 'pawnvane-bench')
    positions = os.path.join(os.path.dirname(__file__), '../../bench/positions')
    with tempfile.TemporaryDirectory() as folder:
        compare_means(os.path.join(build, 'tests/reference/emit_means'))
        compare_contrast(bench, [os.path.join(positions, name) for name in ('bratko-kopec.epd', 'structures.epd')])
        compare_fit(bench, folder)
        compare_census(bench, os.path.join(build, 'tests/reference/emit_games'), folder)
    print(f'{passed} passed, {failed} failed')
    return failed > 0


if __name__ == '__main__':
    sys.exit(main(sys.argv[1]))
