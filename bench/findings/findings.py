"""What the programs of this folder share: running the harness once for each file, and numbers with their intervals."""
import hashlib
import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"
GAMES = "bench/games/masters.pgn.zst"
OPENINGS = "bench/openings/unseen.epd"  # on which nothing has been chosen
WORDS = ROOT / "bench/lesson/findings_words.c"
END = "<!-- end -->"


def begin_of(name):
    """The mark behind which a program of this folder writes its section of README.md."""
    return f"<!-- Written by bench/findings/{name}: begin -->"


class Runner:
    """Runs the harness, once for each file that it is to make."""

    def __init__(self, bench, work, plan):
        self.bench = bench
        self.work = work / hashlib.sha256(bench.read_bytes() + json.dumps(plan).encode()).hexdigest()[:12]
        self.work.mkdir(parents=True, exist_ok=True)

    def call(self, arguments):
        print("  ", "pawnvane-bench", arguments, file=sys.stderr, flush=True)
        done = subprocess.run([str(self.bench), *arguments.split()], cwd=ROOT, stdout=subprocess.PIPE, text=True, check=False)
        if done.returncode != 0:
            sys.exit(f"{sys.argv[0]}: the command above failed with status {done.returncode}")
        return done.stdout

    def path(self, name):
        return self.work / name

    def once(self, name, arguments):
        """Makes a file with a command that names it as {}, unless it is there; a file is there when it is complete."""
        goal = self.path(name)
        if not goal.exists():
            making = self.path("making-" + name)
            making.unlink(missing_ok=True)
            self.call(arguments.format(making))
            making.rename(goal)
        return goal


def write_section(page, begin, section):
    """Puts a section into a page, behind its mark."""
    before, rest = page.read_text().split(begin)
    page.write_text(before + begin + "\n" + section + "\n" + END + rest.split(END, 1)[1])


def literal(text):
    """As a string of C, on lines of common length."""
    pieces = re.findall(r".{1,90}(?:\s|$)|.{1,90}", text)
    return "\n     ".join('"' + piece.replace("\\", "\\\\").replace('"', '\\"') + '"' for piece in pieces)


def write_words():
    """Makes the sentences of handout --findings those with which the sections of README.md begin."""
    said = []
    for name in ("run", "obedience"):
        for line in README.read_text().split(begin_of(name) + "\n")[1].splitlines():
            if not line.startswith("- "):
                break
            said.append(line[2:])
    body = ",\n".join(f"    ({literal(line)})" for line in said)
    WORDS.write_text('#include "bench/lesson/findings_words.h"\n\n/* Written by bench/findings/run and obedience, with --write. */\n/* clang-format off */\n'
                     f"const char *const findings_words[FINDINGS_WORDS] = {{\n{body},\n}};\n/* clang-format on */\n")


def signed(value, digits=1):
    return "-" if value is None else f"{value:+.{digits}f}"


def plain(value, digits=1):
    return "-" if value is None else f"{value:.{digits}f}"


def ranged(low, high, text):
    return "" if low is None or high is None else f" ({text(low)} to {text(high)})"


def percent(mean, digits=1):
    """A chance with its interval, in percent."""
    if mean["estimate"] is None:
        return "-"
    scaled = {key: value and 100 * value for key, value in mean.items()}
    return signed(scaled["estimate"], digits) + ranged(scaled["low"], scaled["high"], lambda x: signed(x, digits))


def table(head, rows):
    return "\n".join("| " + " | ".join(map(str, row)) + " |" for row in [head, ["---"] * len(head), *rows])


def strata_of(match):
    strata = match["strata"]
    return list(strata.items()) if isinstance(strata, dict) else [(one["name"], one) for one in strata]


def elo(group):
    return signed(group["elo"]) + ranged(group["elo_low"], group["elo_high"], signed)


def fared(group):
    """What may be said of a match."""
    said = "it plays better" if group["elo_low"] > 0 else "it plays worse" if group["elo_high"] < 0 else "no difference is shown"
    return f"{said} ({signed(group['elo'])} Elo, 95 % interval {signed(group['elo_low'])} to {signed(group['elo_high'])}, {group['pairs']:,} pairs of games)"


def p_text(value):
    return "-" if value is None else "below 0.001" if value < 0.001 else f"{value:.3f}" if value < 0.1 else f"{value:.2f}"
