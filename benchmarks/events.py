"""A whole event, each command as a process of its own: a field of 150, and 10,000 entries; and what the results of these are made of.

Players, cards and logs are invented from a seed. The larger field has no starting times, for which no day is long enough. No other way is
timed: what a command takes stands beside a bare interpreter.
"""

from __future__ import annotations

import csv
import random
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from benchmarks.commands import MAIN, wait_s
from benchmarks.timing import Row, row
from marram.office.events.event_standing import stand_of
from marram.office.workroom import Workroom

CLUB, LARGE, HOLES = 150, 10_000, 18
TERMS = """title = "Field"
form = "stableford"
scores = "net"
course = "Invented"
day = 2026-06-13
[start]
first = "07:00"
interval_min = 10
group_size = 3
[[tee]]
name = "white"
par = [4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4]
stroke_index = [9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12]
course_rating = 71.4
slope_rating = 128
"""


def write_field(folder: Path, players: int) -> None:
    """Terms, entries, cards, and a log with a search and a drop of each player."""
    chance = random.Random(players)
    names = [f"Player {number:05d}" for number in range(1, players + 1)]
    (folder / "terms.toml").write_text(TERMS, encoding="utf-8")
    _write(folder / "entries.csv", [["player", "handicap_index"], *([name, f"{chance.uniform(0, 36):.1f}"] for name in names)])
    cards = ([name, *(str(chance.randint(3, 8)) for _ in range(HOLES))] for name in names)
    _write(folder / "cards.csv", [["player", *map(str, range(1, HOLES + 1))], *cards])
    _write(folder / "log.csv", [["what", "player", "hole", "search_s", "drops_per_relief", "outcomes"], *_log(names, chance)])


def _log(names: Sequence[str], chance: random.Random) -> Iterator[list[str]]:
    yield ["watched", "", "", "", "", "searches rulings"]
    for name in names:
        yield ["search", name, str(chance.randint(1, HOLES)), str(chance.randint(10, 170)), "", ""]
        yield ["drop", name, str(chance.randint(1, HOLES)), "", str(chance.randint(1, 3)), ""]


def _write(path: Path, rows: Iterable[Sequence[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def steps_of(folder: Path, players: int) -> dict[str, list[str]]:
    """The words of each command, in the order in which they are given."""
    kept = ["--store", str(folder / "store.sqlite")]
    signed = [*kept, "--who", "Rowan"]
    times = {"event times": ["times", *signed]} if players <= CLUB else {}
    return {
        "event new": ["new", str(folder / "terms.toml"), *signed],
        "event enter": ["enter", str(folder / "entries.csv"), *signed],
        "event draw": ["draw", "--seed", "7", *signed],
        **times,
        "event cards": ["cards", str(folder / "cards.csv"), *signed],
        "event log": ["log", "Player 00001", "--hole", "3", "--strokes", "2", "--says", "wrong place", *signed],
        "event observed": ["observed", str(folder / "log.csv"), *signed],
        "event results": ["results", *kept],
        "event rounds": ["rounds", *kept],
    }


def parts_of_results(store: Path) -> dict[str, float]:
    """Seconds of the parts of the results in this process: the books, the rows as they stand, the scores and places."""
    room, found = Workroom(), dict[str, float]()
    opened = room.store(str(store))
    marks = [time.process_time()]
    room.book("2023")
    room.handicap_books(("2024",))
    marks.append(time.process_time())
    event = room.event(opened, "")
    marks.append(time.process_time())
    stand_of(event)
    marks.append(time.process_time())
    for name, before, after in zip(("books", "rows read", "scored and placed"), marks, marks[1:], strict=False):
        found[name] = after - before
    return found


def measure() -> list[Row]:
    """Time every command of both fields, then the parts of the larger one's results."""
    rows: list[Row] = []
    for players in (CLUB, LARGE):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            write_field(folder, players)
            wait_s(["-c", MAIN, "event", "list", "--help"], name)
            bare_s = wait_s(["-c", "pass"], name)
            taken: dict[str, float] = {}
            for step, words in steps_of(folder, players).items():
                taken[step] = wait_s(["-c", MAIN, "event", *words], name)
                rows.append(row(f"{step}, {players:,} players", taken[step], "a bare interpreter", bare_s, players))
            rows.append(row(f"whole event, {players:,} players", sum(taken.values()), "bare interpreters", bare_s * len(taken), players))
            if players == LARGE:
                parts = parts_of_results(folder / "store.sqlite")
                rows += [
                    row(f"results: {part}", took, "the whole command", taken["event results"], players) for part, took in parts.items()
                ]
    return rows


if __name__ == "__main__":
    measure()
