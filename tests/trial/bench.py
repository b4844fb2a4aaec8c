"""The two programs as a user would run them, in a folder of their own, and each command of the harness once."""
import collections
import contextlib
import os
import pathlib
import shlex
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
SMALL = "--nodes 60 --table 1 --adjudicate longest=60 --openings bench/openings/strata.epd --quiet"
PATIENCE = 300  # seconds that any call may take, be the machine as busy as it likes

# Each command on small work. In the arguments, @ is the folder of the outputs and % that of the inputs.
COMMANDS = {
    "census": "census %/games.pgn --store @/census.db --html @/census.html --positions @/census.epd --quiet",
    "chance": "chance --games 20 --nodes 200 --openings bench/openings/strata.epd --sample @/moves --write @/tables.c --quiet",
    "contrast": "contrast bench/positions/scenario.epd --nodes 500 --table 1 --json --quiet",
    "duel": f"duel {SMALL} --pairs 20 --weight 100:0 --store @/duel.db --pgn @/duel.pgn",
    "explain": "explain bench/positions/scenario.epd --json",
    "find": "find %/games.pgn --chain de --pgn --quiet",
    "fit": "fit --games 20 --nodes 100 --openings bench/openings/strata.epd --steps 20 --sample @/sample --write @/weights.c --quiet",
    "forecast": "forecast %/games.pgn bench/positions/scenario.epd --nodes 200 --plies 8 --price 500 --playouts 2 "
                "--playout-nodes 100 --store @/forecast.db --html @/forecast.html --quiet",
    "handout": "handout bench/positions/scenario.epd --nodes 1000 --html @/lesson.html --pgn @/lesson.pgn --quiet",
    "ladder": "ladder --levels 1000,1200,1400 --pairs 4 --adjudicate longest=60 --openings bench/openings/strata.epd --store @/ladder.db --quiet",
    "merge": "merge @/joined.db %/first.db %/second.db",
    "nearer": "nearer bench/positions/scenario.epd --nodes 100:300 --deep 1000 --table 1 --json --quiet",
    "openings": "openings --each 1 --games 4 --out @/openings.epd --quiet",
    "perft": "perft --depth 4",
    "report": "report %/run.db --html @/report.html",
    "spar": "spar --openings bench/openings/strata.epd --elo 1000 --nodes 200 --html @/spar.html --pgn @/spar.pgn",
    "sweep": f"sweep {SMALL} --pairs 4 --weights 50,200 --store @/sweep.db",
    "tune": "tune --parameter null_base=25 --rounds 2 --pairs 2 --nodes 50 --table 1 --openings bench/openings/strata.epd --quiet",
}
KEEPS = {"chance", "duel", "fit", "openings", "spar"}  # interrupted, they write what they have
WORKERS = {"census", "chance", "contrast", "duel", "find", "fit", "forecast", "ladder", "nearer", "openings", "sweep", "tune"}


Whole = collections.namedtuple("Whole", "made out seconds kib")  # what an undisturbed call makes, prints and takes


class Ended:
    """How a call ended."""

    def __init__(self, status, out, err):
        self.status, self.out, self.err = status, out, err

    def fault(self, *allowed):
        """What is wrong with it, None if nothing is: another status than these, or a failure not told in one line
        as users are promised."""
        if self.status not in allowed:
            return f"status {self.status}, said {self.err[-300:]!r}"
        if any(c < " " and c != "\n" for c in self.err):
            return f"control characters: {self.err!r}"
        if self.status > 0 and not all(line.startswith("pawnvane-bench: ") for line in self.err.splitlines()):
            return f"said {self.err!r}"
        return None


def dump(path):
    """All rows of a database, in order, after a check of its integrity."""
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True, timeout=20) as database:
        if database.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            return f"{path}: damaged"
        names = [name for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")]
        rows = {name: sorted(map(repr, database.execute(f"SELECT * FROM {name}"))) for name in names}
    database.close()
    return rows


def content(path):
    return dump(path) if path.suffix == ".db" else path.read_bytes()


class Place:
    """A folder with inputs and outputs, which goes when it is done with."""

    def __init__(self, build, under=(), workers=None):
        self.build, self.under, self.workers = pathlib.Path(build).resolve(), list(under), workers
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="pawnvane-trial-"))
        self.given, self.made = self.folder / "given", self.folder / "made"
        self.given.mkdir()
        self.made.mkdir()
        self.whole = {}

    def __enter__(self):
        return self

    def __exit__(self, *_):
        shutil.rmtree(self.folder, ignore_errors=True)

    def words(self, command):
        words = [word.replace("@", str(self.made)).replace("%", str(self.given)) for word in shlex.split(command)]
        if self.workers and words[0] in WORKERS:
            words += ["--workers", str(self.workers)]
        return [*self.under, str(self.build / "pawnvane-bench"), *words]

    def start(self, command, **options):
        """Outputs go to files, so that nothing waits for a reader."""
        out, err = tempfile.TemporaryFile(), tempfile.TemporaryFile()
        child = subprocess.Popen(self.words(command), cwd=ROOT, stdin=subprocess.DEVNULL,
                                 **{"stdout": out, "stderr": err, **options})
        child.texts = (out, err)
        return child

    @staticmethod
    def wait(child, patience=PATIENCE):
        try:
            status = child.wait(patience)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()
            status = "hangs"
        texts = []
        for file in child.texts:
            file.seek(0)
            texts.append(file.read().decode(errors="replace"))
            file.close()
        return Ended(status, *texts)

    def run(self, command, patience=PATIENCE, **options):
        return self.wait(self.start(command, **options), patience)

    def clear(self):
        for path in self.made.iterdir():
            path.unlink()

    def prepare(self):
        """The inputs that stand for files of a user's."""
        (self.given / "games.pgn").write_bytes((ROOT / "bench/games/club-match.pgn").read_bytes())
        for name, part in (("run", ""), ("first", "--share 1/2"), ("second", "--share 2/2")):
            ended = self.run(f"duel {SMALL} --pairs 12 --weight 100:0 --store %/{name}.db {part}")
            if ended.status != 0:
                raise SystemExit(f"the inputs of the trial cannot be made: {ended.err}")
        self.inputs = self.listing(self.given)

    @staticmethod
    def listing(folder):
        return {path.name: path.read_bytes() for path in folder.iterdir()}

    def expect(self, name):
        """Runs a command undisturbed, once: what it makes, what it prints and how long it takes."""
        if name not in self.whole:
            self.clear()
            begin = time.monotonic()
            ended = self.run(COMMANDS[name])
            seconds = time.monotonic() - begin
            if ended.status != 0:
                raise SystemExit(f"{name} fails undisturbed: {ended.err}")
            sizes = [path.stat().st_size for path in self.made.iterdir()]
            self.whole[name] = Whole({path.name: content(path) for path in self.made.iterdir()}, ended.out, seconds,
                                     sum(size // 1024 + 8 for size in sizes))
        return self.whole[name]


def descendants_of(marks):
    """The processes that have this text among their arguments."""
    found = []
    for entry in pathlib.Path("/proc").glob("[0-9]*"):
        try:
            if marks.encode() in (entry / "cmdline").read_bytes() and int(entry.name) != os.getpid():
                found.append(int(entry.name))
        except OSError:
            pass
    return found


@contextlib.contextmanager
def busy():
    """Four busy processes for each processor."""
    children = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(4 * os.cpu_count())]
    try:
        yield
    finally:
        for child in children:
            child.kill()
            child.wait()
