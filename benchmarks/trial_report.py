"""The report of a large trial: the whole command beside a process that imports the same modules and reads the same tables with `csv`.

An invented season of 100 days with 30 groups each and 10,000 answers of players, from a fixed seed. Seconds are of the processor, memory is
the peak, both of the whole process. The other process reads every row as a dictionary, every value as a number, and does nothing with them.
"""

from __future__ import annotations

import csv
import os
import random
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path

from benchmarks.timing import Row, row

ROOT = Path(__file__).resolve().parents[1]
TRIAL = ROOT / "examples" / "trials" / "four-changes.toml"
PAIRS, GROUPS, ANSWERS = 50, 30, 10_000
PLAYERS = ("a", "b", "c")
FIRST = date(2026, 4, 1)
SEED = 2026
ROUNDS = 5
_MB = 1024.0
REPORT = "from marram.cli.main import main; main()"
MODULES = f"""
import sys
try:
    {REPORT}
except SystemExit:
    pass
sys.stderr.write("\\n".join(name for name in sys.modules if not name.startswith("_") and name != "antigravity"))
"""
BARE = """
import csv, importlib, sys, tomllib
for name in open(sys.argv[1], encoding="utf-8").read().split():
    try:
        importlib.import_module(name)
    except ImportError:
        pass
with open(sys.argv[2], "rb") as file:
    trial = tomllib.load(file)
tables = []
for name in sys.argv[3:]:
    with open(name, encoding="utf-8", newline="") as file:
        tables.append([{**read, "value": float(read["value"])} if read.get("value") else read for read in csv.DictReader(file)])
"""


def days() -> Iterator[list[object]]:
    """The table of days: fifty pairs, a day apart, the trial day first or second by the coin."""
    chance = random.Random(SEED)
    yield ["day", "date", "pair", "rules", "course", "field", "start interval", "green speed", "hole locations"]
    for pair in range(PAIRS):
        rules = ["trial", "ordinary"]
        chance.shuffle(rules)
        for second in (0, 1):
            number = 2 * pair + second
            dated = (FIRST + timedelta(days=number)).isoformat()
            yield [f"d{number:03d}", dated, f"p{pair:02d}", rules[second], "Thimble Moor", GROUPS * len(PLAYERS), "10", "9", f"set {pair}"]


def values() -> Iterator[list[object]]:
    """The table of values: what a group and its players bring home each day, and the answers."""
    chance = random.Random(SEED + 1)
    yield ["day", "outcome", "value", "group", "player", "change", "form"]
    asked = 0
    for day, _, _, rules, *_ in list(days())[1:]:
        shift = chance.gauss(0, 4)
        for group in (f"g{number:02d}" for number in range(1, GROUPS + 1)):
            yield [day, "round_min", round(236 + shift + chance.gauss(0, 9), 1), group, "", 1, ""]
            yield [day, "search_s", round(min(max(chance.gauss(75 if rules == "trial" else 110, 30), 5), 120)), group, "", 1, ""]
            yield [day, "relief_s", round(62 * 2.718281828 ** chance.gauss(0, 0.35)), group, "", 2, ""]
            yield [day, "rulings", chance.randrange(4), group, "", 3, ""]
            yield [day, "disputes", int(chance.random() < 0.02), group, "", 4, ""]
            for player in (f"{group}-{letter}" for letter in PLAYERS):
                yield [day, "strokes", round(chance.gauss(88, 5)), group, player, 1, ""]
                yield [day, "penalty_strokes", chance.randrange(3), group, player, 3, ""]
                for change in range(1, 5):
                    if rules == "trial" and asked < ANSWERS:
                        asked += 1
                        yield [day, "fair", chance.randrange(1, 6), group, player, change, "2026-03-01"]


def write(folder: Path) -> list[str]:
    """The two tables as files, and the names of all files that are read."""
    for name, rows in (("days", days()), ("values", values())):
        with (folder / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows(rows)
    return [str(TRIAL), str(folder / "days.csv"), str(folder / "values.csv")]


def used(words: Sequence[str], environment: dict[str, str]) -> tuple[float, float, str]:
    """Processor seconds and peak memory (MB) of one process, and what it writes to standard error.

    Raises:
        RuntimeError: It failed.
    """
    process = subprocess.Popen([sys.executable, *words], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    assert process.stderr is not None
    said = process.stderr.read().decode()
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{words[0]} ended with {process.returncode}: {said[-500:]}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / _MB, said


def measure() -> list[Row]:
    """Both processes in turn, once to warm what Python keeps, then five times."""
    with tempfile.TemporaryDirectory() as kept:
        environment = os.environ | {"PYTHONPYCACHEPREFIX": f"{kept}/python"}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        trial, table_of_days, table_of_values = write(Path(kept))
        report = ["trial", "report", trial, "--days", table_of_days, "--values", table_of_values, "--json"]
        names = Path(kept) / "modules.txt"
        names.write_text(used(["-c", MODULES, *report], environment)[2], encoding="utf-8")
        ways = {"ours": ["-c", REPORT, *report], "bare": ["-c", BARE, str(names), trial, table_of_days, table_of_values]}
        rounds = [{name: used(words, environment)[:2] for name, words in ways.items()} for _ in range(ROUNDS + 1)][1:]
    cpu_s = {name: statistics.median(found[name][0] for found in rounds) for name in ways}
    peak_mb = {name: statistics.median(found[name][1] for found in rounds) for name in ways}
    told = row("marram trial report, 10,000 answers", cpu_s["ours"], "the same imports and csv", cpu_s["bare"], ROUNDS)
    print(f"{'':34}peak memory {peak_mb['ours']:.0f} MB, other {peak_mb['bare']:.0f} MB")
    return [{**told, "ours_mb": peak_mb["ours"], "other_mb": peak_mb["bare"]}]


if __name__ == "__main__":
    measure()
