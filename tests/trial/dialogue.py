"""A client of the engine that does not wait: it changes options and asks for searches while others run."""
import random
import re
import subprocess

OPTIONS = [
    lambda r: f"Threads value {r.choice((1, 2, 8, 8, 8))}",
    lambda r: f"Hash value {r.choice((1, 2, 16))}",
    lambda r: f"MultiPV value {r.randint(1, 4)}",
    lambda r: f"LeverWeight value {r.choice((0, 100, 400))}",
    lambda r: f"LeverRule value {r.choice(('strict', 'loose'))}",
    lambda r: f"PlanNotes value {r.choice(('true', 'false'))}",
    lambda r: f"SparStyle value {r.choice(('objective', 'faithful', 'contrary', 'patient'))}",
    lambda r: f"SparMargin value {r.choice((0, 30, 300))}",
    lambda r: f"SparSeed value {r.choice((-1, 0, 7))}",
    lambda r: f"UCI_LimitStrength value {r.choice(('true', 'false'))}",
    lambda r: f"UCI_Elo value {r.randint(1000, 2400)}",
    lambda r: f"ClockReserve value {r.randint(0, 100)}",
    lambda r: "Clear Hash",
]
POSITIONS = [
    "startpos",
    "startpos moves e2e4 e7e6 d2d4 d7d5 e4e5 c7c5",
    "fen 2q1rr1k/3bbnnp/p2p1pp1/2pPp3/PpP1P1P1/1P2BNNP/2BQ1PRK/7R b - - 0 1",
    "fen 8/8/8/4k3/8/8/8/1R1K4 b - - 0 1",
]
SEARCHES = ["depth 6", "nodes 5000", "movetime 20", "wtime 200 btime 200", "infinite", "infinite", "ponder wtime 500 btime 500"]


def restless(engine, seed, steps, under=(), patience=300):
    """What was wrong, None if nothing: each search was answered by one move, and the engine ended well."""
    choose = random.Random(seed)
    child = subprocess.Popen([*under, str(engine)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    lines, searches, open_ended = ["setoption name Threads value 8", "isready"], 0, False
    for _ in range(steps):
        kind = choose.random()
        if kind < 0.45:
            lines.append("setoption name " + choose.choice(OPTIONS)(choose))
        elif kind < 0.6:
            lines.append(choose.choice(("isready", "isready", "stop", "ucinewgame", "ponderhit", "uci")))
        else:
            if open_ended:
                lines.append(choose.choice(("stop", "ponderhit\nstop")))
            search = choose.choice(SEARCHES)
            open_ended = search.startswith(("infinite", "ponder"))
            lines += ["position " + choose.choice(POSITIONS), "go " + search]
            searches += 1
    lines += ["stop", "isready", "quit"]
    try:
        out, err = child.communicate("\n".join(lines) + "\n", timeout=patience)
    except subprocess.TimeoutExpired:
        child.kill()
        child.communicate()
        return "hangs"
    moves = re.findall(r"^bestmove [a-h][1-8][a-h][1-8][nbrq]?(?: ponder \w+)?$", out, re.M)
    if child.returncode != 0 or err:
        return f"status {child.returncode}, said {err[-3000:]}"
    if out.count("bestmove") != searches or len(moves) != searches:
        return f"{searches} searches, {len(moves)} moves"
    return None
