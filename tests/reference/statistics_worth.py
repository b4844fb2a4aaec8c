"""Works out with statsmodels what fit --worth says of games whose results are drawn from known weights.

    python3 tests/reference/statistics_worth.py BUILD_DIR

The same rows go through GLM (binomial, which is the logistic regression) with errors clustered by game (K.-Y. Liang
and S. Zeger, Biometrika 73, 1986), without a factor for small samples: that is the spread that endless one-step resamples
would have.
"""
import json
import os
import subprocess
import sys

import numpy
import statsmodels.api as models

passed = failed = 0
RESAMPLES = 20000
GAMES_LEAST = 40


def check(good, message):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(message)


def regress(columns, rows, offset, scale):
    games = numpy.array([row['game'] for row in rows])
    fit = models.GLM(numpy.array([row['result'] for row in rows]), columns / scale, offset=offset / scale,
                     family=models.families.Binomial()).fit(
        tol=1e-12, maxiter=100, cov_type='cluster', cov_kwds={'groups': games, 'use_correction': False})
    return fit.params, fit.bse


def matrix(rows, key, names):
    place = {name: i for i, name in enumerate(names)}
    columns = numpy.zeros((len(rows), len(names)))
    for i, row in enumerate(rows):
        for name, value in row[key].items():
            if name in place:
                columns[i, place[name]] = value
    return columns


def compare(answer, value, error, name):
    check(abs(answer['value'] - value) < 1e-3 * error, f'{name}: {answer["value"]}, statsmodels {value}')
    # A standard deviation of so many resamples is sure to 0.5 %, a 2.5 % quantile to about 1.3 % of its distance.
    check(abs(answer['error'] / error - 1) < 0.02, f'{name}: error {answer["error"]}, statsmodels {error}')
    for key, side in (('low', -1), ('high', 1)):
        expected = value + side * 1.959964 * error
        check(abs(answer[key] - expected) < 0.15 * error, f'{name}: {key} {answer[key]}, statsmodels {expected}')


def main(build):
    lines = [json.loads(line) for line in subprocess.run(
        os.path.join(build, 'tests/reference/emit_worth'), check=True, capture_output=True, text=True).stdout.splitlines()]
    scale = lines[0]['scale']
    rows = [line for line in lines if 'result' in line]
    answers = {line['name']: line for line in lines if 'name' in line}
    halves = sorted({name for row in rows for name in row['halves']}, key=int)
    rest = matrix(rows, 'halves', halves)
    # Where all weights of the term are shown by few games they are held at the engine's, which the offset must know.
    shown = {}
    for row in rows:
        for name in row['term']:
            shown.setdefault(name, set()).add(row['game'])
    parts = sorted(name for name in shown if len(shown[name]) >= GAMES_LEAST)
    held = sorted(set(shown) - set(parts))
    engine = dict(zip([f'base_lever[{i}]' for i in range(8)] + [f'head_lever[{i}]' for i in range(8)]
                      + ['support', 'room', 'piece', 'grade[PS_DOUBTFUL]', 'grade[PS_LIKELY]'],
                      [60, 20, 16, 12, 8, 4, 2, 0, 30, 10, 8, 6, 4, 2, 1, 0, 2, 4, 1, 25, 70]))
    offset = numpy.array([row['offset'] for row in rows])
    fixed = offset + matrix(rows, 'term', held) @ numpy.array([engine[name] for name in held])
    values, errors = regress(numpy.hstack([rest, matrix(rows, 'term', parts)]), rows, fixed, scale)
    check(set(parts) == set(answers) - {'whole'}, f'answered: {sorted(answers)}, expected {parts} and the whole')
    check(len(parts) >= 10, f'only {len(parts)} weights are shown')
    for i, name in enumerate(parts):
        if name in answers:
            compare(answers[name], values[len(halves) + i], errors[len(halves) + i], name)
    names = sorted(shown)
    whole = offset + matrix(rows, 'term', names) @ numpy.array([engine[name] for name in names])
    values, errors = regress(numpy.column_stack([rest, whole / 100]), rows, numpy.zeros(len(rows)), scale)
    compare(answers['whole'], values[-1], errors[-1], 'whole')
    print(f'{passed} passed, {failed} failed')
    return failed > 0


if __name__ == '__main__':
    sys.exit(main(sys.argv[1]))
