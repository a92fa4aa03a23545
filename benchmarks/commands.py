"""What a user waits for: whole commands, the first time after the program was installed and later, beside a bare interpreter.

Seconds are the processor's: what a command takes on a machine that has nothing else to do, for none of them does two things at once.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from benchmarks.timing import Row, row

ROOT = Path(__file__).resolve().parents[1]
MAIN = "from marram.cli.main import main; main()"
COURSE = "examples/courses/thimble-moor.geojson"
COMMANDS = {
    "marram --help": ["--help"],
    "marram rule": ["rule", "examples/incidents/pond-7.toml", "--course", COURSE, "--book", "2023"],
    "marram act": ["act", "wrong-ball", "--book", "2023"],
    "marram ask": ["ask", "my ball moved when I addressed it", "--book", "2023"],
    "marram book compare": ["book", "compare", "2019", "2023"],
    "marram course marking": ["course", "marking", COURSE, "--book", "2023"],
}
ROUNDS = 5
ANSWERED = (0, 1)
"""A check that finds faults has answered."""


def wait_s(words: list[str], kept: str) -> float:
    """How long one process takes; what Python and numba keep compiled goes into a folder.

    Raises:
        RuntimeError: The command failed.
    """
    environment = os.environ | {"PYTHONPYCACHEPREFIX": f"{kept}/python", "NUMBA_CACHE_DIR": f"{kept}/numba"}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    start_s = _used_by_children_s()
    done = subprocess.run([sys.executable, *words], cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    taken_s = _used_by_children_s() - start_s
    if done.returncode not in ANSWERED:
        raise RuntimeError(f"{' '.join(words)} ended with {done.returncode}: {done.stderr[-500:]}")
    return taken_s


def _used_by_children_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def measure() -> list[Row]:
    """Time each command once with nothing kept, then all in turn, a bare interpreter among them."""
    rows = []
    with tempfile.TemporaryDirectory() as kept:
        first_s = {}
        for name, words in COMMANDS.items():
            with tempfile.TemporaryDirectory() as nothing_kept:
                first_s[name] = wait_s(["-c", MAIN, *words], nothing_kept)
        ways = {"bare": ["-c", "pass"]} | {name: ["-c", MAIN, *words] for name, words in COMMANDS.items()}
        rounds = [{name: wait_s(words, kept) for name, words in ways.items()} for _ in range(ROUNDS + 1)][1:]
    median_s = {name: statistics.median(found[name] for found in rounds) for name in ways}
    for name in COMMANDS:
        rows.append(row(f"{name}, first time", first_s[name], "bare interpreter", median_s["bare"], 1))
        rows.append(row(f"{name}, later", median_s[name], "bare interpreter", median_s["bare"], ROUNDS))
    return rows


if __name__ == "__main__":
    measure()
