"""A warm ruling beside the code as it was before, kept by a tag: the same places, two processes, turn about.

*Warm* means that courses and books are open and have been used; every place is ruled on once under each number of books, so that no
answer is there already. *Ruled* is the ruling alone; *told* is with the reasons and the range over the clubs, which it tells on
request (the state before told them at once).

The state before is checked out into a temporary folder; where the tag is missing nothing is measured.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from benchmarks.ruling_places import KINDS, ROOT, draw_places
from benchmarks.timing import Row, row

TAG = "before-rooms"
BOOKS = ("2016", "draft-2017", "2019", "2023", f"2023+{ROOT / 'examples' / 'trials' / 'fixed-lengths.toml'}")
"""Under one book the last edition counts, under five all of these."""
PLACES, WARMING, BATCH = 1000, 24, 4
"""So few places a turn that a busy moment meets both states."""
BEFORE, NOW = "before", "now"
Answer = tuple[float, float, str]
SIDES = ("ruled", "told")


class State:
    """A state of the code in a process of its own."""

    def __init__(self, source: Path, folder: Path) -> None:
        environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(source), str(ROOT)])}
        command = [sys.executable, str(ROOT / "benchmarks" / "ruling_worker.py"), str(folder), *BOOKS]
        self.process = subprocess.Popen(command, env=environment, cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        if hasattr(os, "sched_setaffinity"):  # both on one processor: two of a busy machine are not equally fast
            os.sched_setaffinity(self.process.pid, {min(os.sched_getaffinity(0))})
        self._line()

    def _line(self) -> str:
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        if not line:
            raise RuntimeError("the process that rules has ended; what it said stands above")
        return line

    def ask(self, places: Sequence[int], books: int) -> list[Answer]:
        """Seconds until each place is ruled, and until all is told, and a digest of that."""
        assert self.process.stdin is not None
        self.process.stdin.write(json.dumps({"places": list(places), "books": books}) + "\n")
        self.process.stdin.flush()
        return [tuple(answer) for answer in json.loads(self._line())]

    def end(self) -> None:
        """Let the process end."""
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait()


def has_tag() -> bool:
    """Whether the repository holds the state before."""
    asked = ["git", "-C", str(ROOT), "rev-parse", "--verify", "--quiet", f"{TAG}^{{commit}}"]
    return subprocess.run(asked, capture_output=True, check=False).returncode == 0


def check_out(folder: Path) -> Path:
    """The sources of the state before, in a folder."""
    packed = subprocess.run(["git", "-C", str(ROOT), "archive", TAG, "src"], capture_output=True, check=True).stdout
    folder.mkdir()
    subprocess.run(["tar", "-x", "-C", str(folder)], input=packed, check=True)
    return folder / "src"


def measure(count: int = PLACES) -> list[Row]:
    """Time both states on the same places, kind by kind, under one book and under five."""
    if not has_tag():
        print(f"rulings: this repository has no tag {TAG}, so nothing is measured (a shallow clone has no tags: git fetch --tags)")
        return []
    with tempfile.TemporaryDirectory(prefix="marram-bench-") as made:
        folder = Path(made)
        places = draw_places(folder, count + WARMING)
        (folder / "warming.json").write_text(json.dumps(places[count:]), encoding="utf-8")
        (folder / "places.json").write_text(json.dumps(places[:count]), encoding="utf-8")
        states = {NOW: State(ROOT / "src", folder), BEFORE: State(check_out(folder / "before"), folder)}
        rows = [told for books in (1, len(BOOKS)) for told in _compare(states, places[:count], books)]
        for state in states.values():
            state.end()
    return rows


def _compare(states: dict[str, State], places: Sequence[dict[str, object]], books: int) -> list[Row]:
    answers: dict[str, list[Answer]] = {name: [] for name in states}
    for first in range(0, len(places), BATCH):
        turns = list(states.items())
        for name, state in turns if first // BATCH % 2 else reversed(turns):
            answers[name] += state.ask(range(first, min(first + BATCH, len(places))), books)
    pairs = list(zip(answers[NOW], answers[BEFORE], strict=True))
    alike = sum(now[2] == before[2] for now, before in pairs)
    print(f"rulings, books: {books}; {alike} of {len(pairs)} answers are those of {TAG} to the last digit, the stamps of books apart")
    rows = []
    for kind in KINDS:
        own = [pair for pair, place in zip(pairs, places, strict=True) if place["kind"] == kind]
        # The mean, not the median: what a day of rulings takes in all is what somebody waits for.
        for side, what in enumerate(SIDES):
            now_s, before_s = (statistics.fmean(pair[state][side] for pair in own) for state in (0, 1))
            rows.append(row(f"{kind}, {what}, books: {books}", now_s, TAG, before_s, len(own)))
    return rows


if __name__ == "__main__":
    measure(int(sys.argv[1]) if len(sys.argv) > 1 else PLACES)
