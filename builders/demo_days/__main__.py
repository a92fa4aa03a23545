"""Write what was observed on the two days of the demo's club: one under the trial of four changes, one under the ordinary rules.

Run as ``python -m builders.demo_days``; the same seed gives the same bytes. What is built in stands in ``BUILT_IN``, and a test sees that
the files are what this script writes. Nothing here was observed on any course.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from marram.events.entry_list import Entry
from marram.events.group_draw import DrawnBy, make_draw
from marram.events.starting_list import StartingList, set_times
from marram.office.workroom import Workroom

DRAW_SEED = "7"
"""The draw that the logs go by: `marram event draw --seed 7`."""
SEED = "thimble-moor-2026"
BUILT_IN = {"search_s": -38.0, "rulings": -0.5, "penalty_strokes": 0.55, "hole_min": -0.2}
"""What the trial rules do, in the unit of each outcome."""
HERE = Path(__file__).resolve().parents[2] / "examples" / "events"
HOLES = 18
_PAR_MIN = {3: 11.0, 4: 12.8, 5: 15.5}
_PLACES = (
    (15, "immovable-obstruction", "path-15", 378.3, -216.1),
    (7, "penalty-area", "pond-7", -383.4, 117.5),
    (10, "penalty-area", "burn-10", 231.0, -302.5),
    (9, "penalty-area", "pond-9", -152.7, -114.6),
    (4, "unplayable", "", -247.5, -276.2),
    (5, "unplayable", "", -212.0, -60.0),
)
"""Where relief is taken and rulings are asked for: hole, situation, thing on the survey, metres of the survey."""
_LOST = ((3, "ditch on the left"), (4, "trees right of the fairway"), (12, "rough behind the green"), (17, "rough on the left"))
COLUMNS = (
    *("what", "group", "player", "hole", "tee", "approach", "green", "in", "waiting_min", "search_s", "ball_found", "drops_per_relief"),
    *("placed", "relief_s", "from_spot_m", "ruling_s", "disputes", "penalty_strokes", "act", "spot", "feature", "x_m", "y_m", "outcomes"),
)
Row = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A day: what makes its chance, and what the rules do on it."""

    seed: str
    does: dict[str, float]
    absent: tuple[str, ...] = ()


def starts() -> tuple[StartingList, tuple[int, ...]]:
    """The starting list of both days, and the pars."""
    room = Workroom()
    terms = room.event_terms(HERE / "terms.toml").terms
    with (HERE / "entries.csv").open(encoding="utf-8", newline="") as file:
        entries = [Entry(player=row["player"]) for row in csv.DictReader(file)]
    assert terms.starting is not None
    drawn = make_draw(entries, by=DrawnBy.RANDOM, size=terms.starting.group_size, seed=DRAW_SEED)
    pars = tuple(next(iter(terms.terms.tees.values())).par)
    return set_times(drawn.groups, terms.starting, pars), pars


def log_rows(day: Day) -> Iterator[Row]:
    """The log of a day."""
    chance = random.Random(day.seed)
    yield {"what": "watched", "outcomes": "searches rulings disputes waiting_min"}
    found, pars = starts()
    ahead: dict[int, float] = {}
    for group in found.groups:
        yield from _round(group.number, float(group.start_min), pars, day, chance, ahead)
        yield from _incidents([one for one in group.players if one not in day.absent], day, chance)
        for player in (one for one in group.players if one not in day.absent):
            yield {"what": "round", "player": player, "penalty_strokes": _count(chance, 1.1 + day.does.get("penalty_strokes", 0.0))}


def _round(
    number: int, starts_min: float, pars: tuple[int, ...], day: Day, chance: random.Random, ahead: dict[int, float]
) -> Iterator[Row]:
    """Times of a group by hole; it waits on a tee until the group ahead has played its strokes to the green there."""
    now = starts_min
    for hole, par in enumerate(pars, start=1):
        waited = max(0.0, ahead.get(hole, 0.0) - now)
        tee = now + waited
        took = _PAR_MIN[par] + chance.gauss(0, 0.9) + day.does.get("hole_min", 0.0)
        to_green = tee + took * (0.55 if par > 3 else 0.35)
        green, end = to_green + took * 0.12, tee + took
        ahead[hole] = to_green
        times = {"tee": _clock(tee), "approach": _clock(to_green), "green": _clock(green), "in": _clock(end)}
        yield {"what": "hole", "group": number, "hole": hole, **times, "waiting_min": f"{waited:.1f}"}
        now = end + 0.8


def _incidents(players: list[str], day: Day, chance: random.Random) -> Iterator[Row]:
    """Searches, drops and rulings of a group."""
    limit = 120 if "search_s" in day.does else 180
    for _ in range(2):
        hole, spot = chance.choice(_LOST)
        looked = round(min(max(chance.gauss(112 + day.does.get("search_s", 0.0), 35), 8), limit))
        found = "no" if looked == limit else "yes"
        player = chance.choice(players)
        yield {"what": "search", "player": player, "hole": hole, "search_s": looked, "ball_found": found, "spot": spot}
    for _ in range(2):
        drops = 1 + (chance.random() < 0.3) + (chance.random() < 0.1)
        took, apart = round(62 * 2.718281828 ** chance.gauss(0, 0.35)), abs(chance.gauss(2.0, 0.8))
        measured = {"drops_per_relief": drops, "placed": "yes" if drops > 2 else "no", "relief_s": took, "from_spot_m": f"{apart:.1f}"}
        yield {"what": "drop", "player": chance.choice(players), **_place(chance), **measured}
    for _ in range(_count(chance, 2.0 + day.does.get("rulings", 0.0))):
        took = round(95 * 2.718281828 ** chance.gauss(0, 0.4))
        yield {"what": "ruling", "player": chance.choice(players), **_place(chance), "ruling_s": took, "disputes": "no"}


def _place(chance: random.Random) -> Row:
    hole, act, feature, x_m, y_m = chance.choice(_PLACES)
    at = {"x_m": f"{x_m + chance.gauss(0, 1.5):.1f}", "y_m": f"{y_m + chance.gauss(0, 1.5):.1f}"}
    return {"hole": hole, "act": act, "feature": feature, **at}


def _count(chance: random.Random, mean: float) -> int:
    """A count with that mean, by waiting times."""
    found, left = 0, mean
    while (left := left - chance.expovariate(1.0)) > 0:
        found += 1
    return found


def _clock(minutes: float) -> str:
    seconds = round(minutes * 60)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def cards_rows() -> Iterator[list[str]]:
    """The cards of the ordinary day: those of the other, a stroke more or less here and there."""
    chance = random.Random(f"{SEED} cards")
    with (HERE / "cards.csv").open(encoding="utf-8", newline="") as file:
        heading, *rows = list(csv.reader(file))
    yield heading[: HOLES + 1]
    for player, *cells in rows:
        shown = [cell if cell.isdigit() else str(chance.randint(4, 6)) for cell in cells[:HOLES]]
        yield [player, *(str(max(2, int(cell) + chance.choice((-1, 0, 0, 1)))) for cell in shown)]


def day_files() -> dict[str, str]:
    """Both logs, and the terms and cards of the ordinary day."""
    terms = (HERE / "terms.toml").read_text(encoding="utf-8")
    ordinary = terms.replace("summer stableford", "midsummer stableford").replace("2026-06-13", "2026-06-20")
    text = StringIO()
    csv.writer(text, lineterminator="\n").writerows(cards_rows())
    return {
        "log.csv": _log(Day(seed=f"{SEED} trial", does=BUILT_IN, absent=("Betony",))),
        "ordinary/terms.toml": ordinary,
        "ordinary/cards.csv": text.getvalue(),
        "ordinary/log.csv": _log(Day(seed=f"{SEED} ordinary", does={})),
    }


def _log(day: Day) -> str:
    text = StringIO()
    table = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    table.writeheader()
    table.writerows(log_rows(day))
    return text.getvalue()


if __name__ == "__main__":
    for name, text in day_files().items():
        (HERE / name).parent.mkdir(exist_ok=True)
        (HERE / name).write_text(text, encoding="utf-8")
        print(f"Written: {HERE / name}")
