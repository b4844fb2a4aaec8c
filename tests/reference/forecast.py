#!/usr/bin/env python3
"""The controlled figures of `pawnvane-bench forecast` beside those of statsmodels.

    python3 forecast.py BUILD [GAMES.pgn...]      without games: the shipped ones

The command writes its rows to a store; from these rows, read with SQL, the tables and the choices are made here
once more, and statsmodels computes what the command printed: Mantel-Haenszel with the error of Robins, Breslow
and Greenland, Breslow-Day with Tarone's correction (StratifiedTable), the conditional logit (ConditionalLogit).
Errors by cluster, which statsmodels does not give for these, are written out with numpy. All must agree to four
digits. Games that are made up are compared too, and what searches say of shipped positions: the means of prices
(DescrStatsW), and whether games bear them out (OLS with errors HC1).
"""
import collections
import json
import math
import os
import random
import sqlite3
import subprocess
import sys
import tempfile
import warnings

try:
    import numpy as np
    import statsmodels
    from statsmodels.discrete.conditional_models import ConditionalLogit
    from statsmodels.regression.linear_model import OLS
    from statsmodels.stats.weightstats import DescrStatsW
    from statsmodels.stats.contingency_tables import StratifiedTable
except ImportError:
    # The packages of the system belong to its own Python, which need not be the first in PATH.
    if sys.executable != "/usr/bin/python3" and os.path.exists("/usr/bin/python3") and "PAWNVANE_PYTHON" not in os.environ:
        os.environ["PAWNVANE_PYTHON"] = "tried"
        os.execv("/usr/bin/python3", ["/usr/bin/python3", *sys.argv])
    sys.exit("forecast.py: statsmodels is missing; expected the package python3-statsmodels")

WINGS = ("kingside", "queenside")
REGION = dict(zip("abcdefgh", ["queenside"] * 3 + ["centre"] * 2 + ["kingside"] * 3))
NORMAL_975 = 1.959963984540054  # from memory

passed = failed = 0


def check(good, text):
    global passed, failed
    passed, failed = passed + bool(good), failed + (not good)
    if not good and failed <= 10:
        print("FAILED:", text, file=sys.stderr)


def same(ours, theirs, text):
    """To four digits; null is what does not exist."""
    if ours is None or theirs is None or not math.isfinite(theirs):
        check(ours is None and (theirs is None or not math.isfinite(theirs)), f"{text}: {ours}, expected {theirs}")
    else:
        check(math.isclose(ours, theirs, rel_tol=5e-5, abs_tol=1e-9), f"{text}: {ours}, expected {theirs}")


# ----------------------------------------------------------------------------------------------- odds ratios


def opening(row):
    """Start and moves up to the row's stratum; the text of the moves, not the hash of the product."""
    return (row["start"], " ".join(row["opening"].split()[: row["opening_plies"]]))


def units(rows, moment, verdict, side, lever="first_lever"):
    """Sides whose direction and lever are both on a wing: (opening, side, named kingside, came kingside)."""
    found = []
    for row in rows:
        if row["moment"] != moment or row["both_ways"] or verdict not in (None, row["verdict"]):
            continue
        came = row[lever] and REGION[row[lever][0]]
        if side in ("both", row["side"]) and row["region"] in WINGS and came in WINGS:
            found.append((opening(row), row["side"], row["region"] == "kingside", came == "kingside", row["game_id"]))
    return found


def tables(found, key):
    strata = collections.defaultdict(lambda: np.zeros((2, 2)))
    for unit in found:
        strata[key(unit)][1 - unit[2], 1 - unit[3]] += 1
    return strata


def informs(table):
    return table.sum(axis=0).all() and table.sum(axis=1).all()


def mantel_haenszel(strata):
    """Estimate, error of its logarithm, statsmodels' object; None without an estimate."""
    used = [table for table in strata.values() if informs(table)]
    if not sum(t[0, 0] * t[1, 1] for t in used) or not sum(t[0, 1] * t[1, 0] for t in used):
        return None, None, None
    model = StratifiedTable(used)
    return model.oddsratio_pooled, model.logodds_pooled_se, model


def influences(strata, estimate):
    """What each opening adds to the logarithm's deviation."""
    r_sum = sum(t[0, 0] * t[1, 1] / t.sum() for t in strata.values())
    by_opening = collections.Counter()
    for (name, _), t in strata.items():
        by_opening[name] += (t[0, 0] * t[1, 1] - estimate * t[0, 1] * t[1, 0]) / t.sum() / r_sum
    return by_opening


def check_odds(ours, rows, text, lever="first_lever"):
    found = units(rows, ours["moment"], ours["verdict"], ours["side"], lever)
    strata = tables(found, lambda unit: unit[:2])
    check(ours["n"] == len(found), f"{text}: n {ours['n']}, expected {len(found)}")
    whole = sum(strata.values(), np.zeros((2, 2)))
    check(ours["table"] == whole.tolist(), f"{text}: table {ours['table']}, expected {whole.tolist()}")

    raw, raw_error, _ = mantel_haenszel(tables(found, lambda unit: unit[1]))
    same(ours["raw"]["estimate"], raw, f"{text}: raw")
    if raw:
        same(ours["raw"]["low"], raw * math.exp(-NORMAL_975 * raw_error), f"{text}: raw, low")
        same(ours["raw"]["high"], raw * math.exp(NORMAL_975 * raw_error), f"{text}: raw, high")

    within = ours["within"]
    informing = {key: table for key, table in strata.items() if informs(table)}
    check(within["strata"] == len(strata) and within["informing"] == len(informing), f"{text}: strata {within}")
    inside = [unit for unit in found if unit[:2] in informing]
    check(within["n_informing"] == len(inside), f"{text}: sides in strata that inform")
    check(within["games_informing"] == len({unit[4] for unit in inside}), f"{text}: games in strata that inform")
    estimate, error, model = mantel_haenszel(strata)
    same(within["estimate"], estimate, f"{text}: within")
    if not estimate:
        return None
    low, high = model.oddsratio_pooled_confint()
    same(within["low"], low, f"{text}: within, low")
    same(within["high"], high, f"{text}: within, high")
    clustered = math.sqrt(sum(value**2 for value in influences(strata, estimate).values()))
    same(within["clustered_low"], estimate * math.exp(-NORMAL_975 * clustered), f"{text}: clustered, low")
    same(within["clustered_high"], estimate * math.exp(NORMAL_975 * clustered), f"{text}: clustered, high")
    # Where the common odds ratio is 1 statsmodels divides 0 by 0.
    if len(informing) > 1 and abs(estimate - 1) > 1e-9:
        test = model.test_equal_odds(adjust=True)
        same(ours["homogeneity"]["chi_square"], test.statistic, f"{text}: homogeneity")
        same(ours["homogeneity"]["p"], test.pvalue, f"{text}: homogeneity, p")
        check(ours["homogeneity"]["degrees"] == len(informing) - 1, f"{text}: degrees of freedom")
    return estimate, error, influences(strata, estimate)


def check_lock(ours, odds):
    first, second = (odds.get((moment, None, ours["side"])) for moment in ("firm", "not_rammed"))
    text = f"lock, {ours['side']}"
    if not first or not second:
        same(ours["estimate"], None, text)
        return
    ratio, error = first[0] / second[0], math.hypot(first[1], second[1])
    both = first[2].copy()
    both.subtract(second[2])
    clustered = math.sqrt(sum(value**2 for value in both.values()))
    same(ours["estimate"], ratio, text)
    same(ours["low"], ratio * math.exp(-NORMAL_975 * error), f"{text}, low")
    same(ours["high"], ratio * math.exp(NORMAL_975 * error), f"{text}, high")
    same(ours["clustered_low"], ratio * math.exp(-NORMAL_975 * clustered), f"{text}, clustered low")
    same(ours["clustered_high"], ratio * math.exp(NORMAL_975 * clustered), f"{text}, clustered high")


def check_e_value(ours, primary):
    def e_value(ratio):
        risk = max(math.sqrt(ratio), 1 / math.sqrt(ratio))
        return risk + math.sqrt(risk * (risk - 1))

    within = primary["within"]
    if within["estimate"]:
        same(ours["estimate"], e_value(within["estimate"]), "E-value")
        low, high = within["low"], within["high"]
        same(ours["interval"], e_value(low) if low > 1 else e_value(high) if high < 1 else 1, "E-value of the interval")


# ---------------------------------------------------------------------------------------------------- choices

NAMES = ["named", "named_rammed", "named_black", "steps", "blockers", "support", "own_king", "other_king"]


def covariates(row, choice):
    named = float(choice["goal"] == row["lever"])
    wing = REGION[choice["goal"][0]]
    return [
        named,
        named if row["moment"] == "firm" else 0,
        named if row["side"] == "black" else 0,
        choice["steps"],
        choice["blockers"],
        choice["support"],
        float(wing == REGION[row["own_king"][0]]),
        float(wing == REGION[row["other_king"][0]]),
    ]


def check_choice(ours, rows, choices):
    y, x, groups, clusters = [], [], [], []
    for row in rows:
        there = choices.get(row["id"], [])
        goals = [choice["goal"] for choice in there]
        if row["both_ways"] or row["first_lever"] not in goals or len(there) < 2:
            continue
        clusters.append(opening(row))
        for choice in there:
            y.append(float(choice["goal"] == row["first_lever"]))
            x.append(covariates(row, choice))
            groups.append(len(clusters))
    if not ours:
        return
    y, x, groups = np.array(y), np.array(x), np.array(groups)
    check(ours["sides"] == len(clusters) and ours["alternatives"] == len(y), "choice: sides and alternatives")
    check(ours["openings"] == len(set(clusters)), "choice: openings")
    check(ours["candidates"] == ours["sides"] + ours["no_lever"] + ours["not_there"] + ours["no_choice"],
          "choice: what is left out does not add up")
    # From a rough end to a fine one: the likelihood has one summit, and the first method stops early.
    model = ConditionalLogit(y, x, groups=groups)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        rough = model.fit(method="bfgs", disp=False)
        result = model.fit(method="newton", start_params=rough.params, tol=1e-10, maxiter=50, disp=False)
    same(ours["log_likelihood"], result.llf, "choice: log-likelihood")

    # Scores and their sums by cluster, for the sandwich.
    scores, information = collections.defaultdict(lambda: np.zeros(x.shape[1])), np.zeros((x.shape[1],) * 2)
    for group, cluster in enumerate(clusters, 1):
        at = groups == group
        weight = np.exp(x[at] @ result.params)
        share = weight / weight.sum()
        mean = share @ x[at]
        scores[cluster] += y[at] @ x[at] - mean
        information += (x[at].T * share) @ x[at] - np.outer(mean, mean)
    inverse = np.linalg.inv(information)
    middle = sum(np.outer(score, score) for score in scores.values())
    count = len(scores)
    clustered = np.sqrt(np.diag(inverse @ middle @ inverse) * count / (count - 1))
    for i, entry in enumerate(ours["coefficients"]):
        check(entry["name"] == NAMES[i], f"choice: {entry['name']}, expected {NAMES[i]}")
        # A coefficient near zero is known to a fraction of its error.
        close = abs(entry["estimate"] - result.params[i]) <= max(5e-5 * abs(result.params[i]), 5e-5 * result.bse[i])
        check(close, f"choice: {entry['name']} {entry['estimate']}, expected {result.params[i]}")
        same(entry["error"], result.bse[i], f"choice: error of {entry['name']}")
        same(entry["clustered_error"], clustered[i], f"choice: clustered error of {entry['name']}")


# --------------------------------------------------------------------------------------------------- log-loss


def check_loss(ours, rows):
    """Each half of the games foretold from the other, shares drawn towards the wider class by two levers' weight."""
    half = {row["game_id"]: int(row["hash"], 16) & 1 for row in rows}
    found = units(rows, "firm", None, "both")
    keys = {
        "side": lambda u: u[1],
        "direction": lambda u: (u[1], u[2]),
        "opening": lambda u: u[:2],
        "both": lambda u: u[:3],
    }
    tallies = {name: collections.defaultdict(lambda: [0, 0]) for name in keys}
    for unit in found:
        for name, key in keys.items():
            tallies[name][half[unit[4]], key(unit)][unit[3]] += 1
    towards = {"side": None, "direction": "side", "opening": "side", "both": "direction"}
    losses = collections.defaultdict(list)
    for unit in found:
        shares = {None: 0.5}
        for name in ("side", "direction", "opening", "both"):
            other, king = tallies[name].get((1 - half[unit[4]], keys[name](unit)), (0, 0))
            shares[name] = (king + 2 * shares[towards[name]]) / (king + other + 2)
            losses[name].append(-math.log2(shares[name] if unit[3] else 1 - shares[name]))
    check(ours["n"] == len(found), "log-loss: n")
    for name in keys:
        same(ours[name], sum(losses[name]) / len(found), f"log-loss: {name}")
    saved = np.array(losses["opening"]) - np.array(losses["both"])
    by_opening = collections.Counter()
    for unit, value in zip(found, saved):
        by_opening[unit[0]] += (value - saved.mean()) / len(found)
    reach = NORMAL_975 * math.sqrt(sum(value**2 for value in by_opening.values()))
    check(abs(ours["saved"] - saved.mean()) < 1e-9, "log-loss: saved")
    check(abs(ours["saved_high"] - saved.mean() - reach) < 1e-6, "log-loss: interval")


# ------------------------------------------------------------------------------------------------- made-up games

OPENINGS = ["a3 a6 h3 h6 a4 a5", "h3 h6 a3 a6 h4 h5", "a4 a5 h4 h5 Ra2 Ra7", "a4 a5 h4 h5 Rh2 Rh7", "a3 a5 h3 h5 Ra2 Ra7"]
# The lock, or the linked pawns that are not rammed; then each side's levers on the kingside and on the queenside.
STRUCTURES = {
    "French": ("e4 e6 d4 d5 e5", {"white": ("f4 f5", "c4"), "black": ("f6", "c5")}),
    "Indian": ("d4 d6 e4 e5 d5", {"white": ("f4", "c4 c5"), "black": ("f5", "c6")}),
    "open e": ("e4 e6 d4 d6 e5", {"white": ("f4 f5", "c4"), "black": ("f6", "c6")}),
    "open d": ("d4 d6 e4 e6 d5", {"white": ("f4", "c4 c5"), "black": ("g6", "c6")}),
}
WAITING = {"white": ("Nd2", "Nb1"), "black": ("Nd7", "Nb8")}


def made_up_game(source):
    """White and Black each wait now and then, play a plan on one wing, and wait on."""
    opening_moves, name = source.choice(OPENINGS), source.choice(list(STRUCTURES))
    lock, levers = STRUCTURES[name]
    moves = opening_moves.split() + lock.split()
    plans, waited = {}, collections.Counter()
    for side in ("white", "black"):
        points_kingside = (name in ("French", "open e")) == (side == "white")
        kingside = source.random() < (0.7 if points_kingside else 0.35)
        plans[side] = source.choice([0, 0, 1, 2]) * [None] + levers[side][0 if kingside else 1].split()
        if source.random() < 0.15:
            plans[side] = []
    for ply in range(len(moves), len(moves) + 10):
        side = ("white", "black")[ply % 2]
        move = plans[side].pop(0) if plans[side] else None
        if move is None:
            move = WAITING[side][waited[side] % 2]
            waited[side] += 1
        moves.append(move)
    text = " ".join((f"{ply // 2 + 1}. " if ply % 2 == 0 else "") + move for ply, move in enumerate(moves))
    result = source.choice(["1-0", "0-1", "1/2-1/2"])
    return f'[Event "?"]\n[Result "{result}"]\n\n{text} {result}\n\n'


def made_up_games(count, seed):
    source = random.Random(seed)
    return "".join(made_up_game(source) for _ in range(count))


# -------------------------------------------------------------------------------------------------- everything


def check_games(bench, files):
    with tempfile.TemporaryDirectory() as folder:
        store = os.path.join(folder, "forecast.db")
        out = subprocess.run([bench, "forecast", *files, "--json", "--quiet", "--store", store], check=True,
                             capture_output=True, text=True).stdout
        ours = json.loads(out)
        check(ours["skipped"] == 0, "games were left out")
        database = sqlite3.connect(store)
        database.row_factory = sqlite3.Row
        rows = [dict(row) for row in database.execute(
            "SELECT r.*, g.start, g.opening, g.hash FROM forecast_row r JOIN forecast_game g ON g.id = r.game_id ORDER BY r.id")]
        choices = collections.defaultdict(list)
        for choice in database.execute("SELECT * FROM forecast_choice ORDER BY row_id, place"):
            choices[choice["row_id"]].append(choice)
        database.close()
    odds = {}
    for entry in ours["odds"]:
        key = (entry["moment"], entry["verdict"], entry["side"])
        odds[key] = check_odds(entry, rows, "/".join(str(part) for part in key))
    for entry in ours["lock"]:
        check_lock(entry, odds)
    check_odds(ours["controls"]["rim"], rows, "rim")
    check_odds(ours["controls"]["earlier"], rows, "earlier", "earlier_lever")
    check_e_value(ours["e_value"], ours["primary"])
    check_choice(ours["choice"], rows, choices)
    check_loss(ours["log_loss"], rows)
    estimates = sum(value is not None for value in odds.values())
    print(f"{ours['games']} games: {estimates} odds ratios within openings, {'a' if ours['choice'] else 'no'} model of choice")
    return estimates, ours["choice"]


def check_made_up_games(bench):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "made-up.pgn")
        with open(path, "w", encoding="ascii") as file:
            file.write(made_up_games(500, 1))
        estimates, _ = check_games(bench, [path])
    check(estimates >= 8, "the made-up games have too little to compare")


# ---------------------------------------------------------------------------------------------------- prices

SEARCH = "--nodes 200 --plies 6 --price 1000 --playouts 60 --playout-nodes 100".split()
WIN_SCALE, SCORE_LIMIT = 123, 1000  # bench/contrast/judge.h
GROUPS = {"verdict": ("applies", "weak"), "grade": ("firm", "likely", "doubtful"), "status": ("ready", "unsupported")}


def chance(score):
    return 1 / (1 + math.exp(-score / WIN_SCALE))


def cut_off(score):
    return max(-SCORE_LIMIT, min(SCORE_LIMIT, score))


def check_mean(ours, values, text):
    if len(values) == 0:
        same(ours["estimate"], None, text)
        return
    same(ours["estimate"], float(np.mean(values)), text)
    if len(values) > 1:
        low, high = DescrStatsW(values).tconfint_mean()
        same(ours["low"], low, f"{text}, low")
        same(ours["high"], high, f"{text}, high")


def price_group(prices, name):
    """Prices of "all", "firm", "firm-ready" and the like."""
    wanted = {key: part for part in name.split("-") for key, parts in GROUPS.items() if part in parts}
    return [price for price in prices if all(price[key] == part for key, part in wanted.items())]


def check_price_rows(ours, prices):
    for row in ours["prices"]:
        for kind in ("lever", "other"):
            used = [price for price in price_group(prices, row["id"]) if price[kind] is not None]
            text = f"price {row['id']} against {kind}"
            check(row[kind]["n"] == len(used), f"{text}: n {row[kind]['n']}, expected {len(used)}")
            check_mean(row[kind]["centipawns"], [cut_off(p["named_score"]) - cut_off(p[kind + "_score"]) for p in used], text)
            check_mean(row[kind]["chance"], [chance(p["named_score"]) - chance(p[kind + "_score"]) for p in used], text)


def check_calibration(ours, prices):
    for row in ours["calibration"]:
        used = [price for price in price_group(prices, row["id"]) if price["named_points"] is not None]
        expected = np.array([chance(p["named_score"]) - chance(p[p["rival"] + "_score"]) for p in used])
        observed = np.array([(p["named_points"] - p["rival_points"]) / 2 for p in used])
        text = f"calibration {row['id']}"
        check(row["n"] == len(used), f"{text}: n {row['n']}, expected {len(used)}")
        for name, values in (("expected", expected), ("observed", observed), ("missed", observed - expected)):
            check_mean(row[name], values, f"{text}, {name}")
        model = OLS(observed, np.column_stack([np.ones(len(used)), expected])).fit(cov_type="HC1")
        low, high = model.conf_int()[1]
        for name, value in (("slope", model.params[1]), ("slope_error", model.bse[1]), ("slope_low", low), ("slope_high", high)):
            same(row[name], float(value), f"{text}, {name}")


def check_search_counts(ours, rows):
    """Of lines and continuations: where the first lever came, from the rows of the store."""
    for witness in ("line", "continuation"):
        own = [row for row in rows if row["witness"] == witness and row["moment"] != "rim"]
        check(sum(entry["n"] for entry in ours[witness]["rows"]) == len(own), f"{witness}: rows")
        for entry in ours[witness]["rows"]:
            cell = [row for row in own if all(row[key] == entry[key] for key in ("moment", "side", "verdict", "region"))]
            came = collections.Counter(REGION[row["first_lever"][0]] if row["first_lever"] else "none" for row in cell)
            check({key: value for key, value in entry["first_lever"].items() if value} == dict(came), f"{witness}: {entry}")
        for entry in ours[witness]["odds"]:
            found = units(own, entry["moment"], entry["verdict"], entry["side"])
            raw, raw_error, _ = mantel_haenszel(tables(found, lambda unit: unit[1]))
            same(entry["raw"]["estimate"], raw, f"{witness}: {entry['moment']} {entry['verdict']} {entry['side']}")
            if raw:
                same(entry["raw"]["low"], raw * math.exp(-NORMAL_975 * raw_error), f"{witness}: raw, low")


def check_positions(bench, suite, count):
    with tempfile.TemporaryDirectory() as folder:
        store, path = os.path.join(folder, "forecast.db"), os.path.join(folder, "positions.epd")
        with open(suite, encoding="utf8") as lines, open(path, "w", encoding="utf8") as part:
            part.writelines([line for line in lines if not line.startswith("#")][:count])
        out = subprocess.run([bench, "forecast", path, *SEARCH, "--json", "--quiet", "--store", store], check=True,
                             capture_output=True, text=True).stdout
        ours = json.loads(out)["searches"]
        database = sqlite3.connect(store)
        database.row_factory = sqlite3.Row
        prices = [dict(row) for row in database.execute("SELECT * FROM forecast_price")]
        rows = [dict(row) for row in database.execute(
            "SELECT r.*, g.witness, g.start, g.opening FROM forecast_row r JOIN forecast_game g ON g.id = r.game_id")]
        database.close()
    check(ours["positions"] + ours["left_out"] == count, "positions: not all of them")
    check_price_rows(ours, prices)
    check_calibration(ours, prices)
    check_search_counts(ours, rows)
    check(len(prices) > 50 and len(ours["calibration"]) == 3, "the positions have too little to compare")
    print(f"{ours['positions']} positions: {len(prices)} prices, {ours['calibration'][0]['n']} played out")


def main():
    build = sys.argv[1] if len(sys.argv) > 1 else "build"
    here = os.path.dirname(os.path.abspath(__file__))
    shipped = os.path.join(here, "../../bench/games")
    # masters-500.pgn is the beginning of the other file.
    files = sys.argv[2:] or [os.path.join(shipped, name) for name in ("club-match.pgn", "masters.pgn.zst")]
    bench = os.path.join(build, "pawnvane-bench")
    print(f"statsmodels {statsmodels.__version__}")
    check_made_up_games(bench)
    _, choice = check_games(bench, files)
    check(choice, "no model of choice could be compared")
    check_positions(bench, os.path.join(here, "../../bench/openings/strata.epd"), 800)
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed > 0 or passed == 0)


main()
