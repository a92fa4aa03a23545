"""Write the demo season: ten pairs of days of an invented trial on two invented clubs, with effects that are built in.

Run as ``python -m builders.demo_season``; the same seed gives the same bytes. What is built in stands in ``BUILT_IN``, and a test sees that
the season is what this script writes. Nothing here was observed on any course.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from io import StringIO
from pathlib import Path

from marram.evidence.plan import draw_pairs, name_pairs
from marram.records.rows import Arm

SEED = "three-firths-2026"
PAIRS, GROUPS, PLAYERS = 10, 25, 3
FIRST_DAY = date(2026, 4, 4)
COURSES = ("Thimble Moor", "Gorse Hollow")
BUILT_IN = {"search_s": -38.0, "relief_s": 0.0, "rulings": -0.5, "penalty_strokes": 0.55, "strokes": 0.1, "round_min": -3.0}
"""What the trial rules do to a day's mean, in the unit of each outcome. Nobody meets change 4."""
SEARCHES_A_GROUP, RELIEFS_A_GROUP = 2, 2
BANDS = {"a": ("0 to 12", 0.9), "b": ("13 to 22", 0.75), "c": ("23 and over", 0.4)}
"""By the last letter of a player's name the handicap band, and the part of its players who hand in the form after the round."""
HERE = Path(__file__).resolve().parents[2] / "examples" / "season"


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A day of the season."""

    name: str
    pair: str
    dated: date
    is_trial: bool
    course: str


def days() -> list[Day]:
    """Ten pairs, a week between the two days, with the coin of the plan for which comes under the trial rules."""
    found = []
    for number, drawn in enumerate(draw_pairs(name_pairs(PAIRS), SEED)):
        for second, arm in enumerate((drawn.first, drawn.second)):
            found.append(
                Day(
                    name=f"d{2 * number + second + 1:02d}",
                    pair=drawn.pair,
                    dated=FIRST_DAY + timedelta(weeks=2 * number + second),
                    is_trial=arm is Arm.TRIAL,
                    course=COURSES[number % 2],
                )
            )
    return found


def day_rows(season: list[Day], chance: random.Random) -> Iterator[list[object]]:
    yield ["day", "date", "pair", "rules", "course", "field", "start interval", "wind", "rain", "green speed", "hole locations"]
    for day in season:
        rules = "trial" if day.is_trial else "ordinary"
        wind, rain = chance.choice(["calm", "light", "fresh"]), chance.choice(["none", "none", "showers"])
        yield [day.name, day.dated.isoformat(), day.pair, rules, day.course, GROUPS * PLAYERS, "10", wind, rain, "9", f"set {day.pair}"]


def value_rows(season: list[Day], chance: random.Random) -> Iterator[list[object]]:
    yield ["day", "outcome", "value", "group", "player", "kind", "change", "form"]
    hands_in = random.Random(f"{SEED} forms")
    pair_shift = {day.pair: chance.gauss(0, 4) for day in season}
    for day in season:
        effect = {key: value if day.is_trial else 0.0 for key, value in BUILT_IN.items()}
        round_of_day = 236 + pair_shift[day.pair] + chance.gauss(0, 4) + effect["round_min"]
        shift = {"search_s": chance.gauss(0, 6), "relief_s": chance.gauss(0, 0.05), "strokes": chance.gauss(0, 0.2)}
        for group in range(1, GROUPS + 1):
            yield from _group_rows(day, f"g{group:02d}", round_of_day, shift, effect, chance, hands_in)


def asked_rows() -> Iterator[list[object]]:
    """Who was asked: all players of the trial days, by handicap band."""
    yield ["kind", "asked"]
    yield from ([kind, PAIRS * GROUPS * PLAYERS // len(BANDS)] for kind, _ in BANDS.values())


def _group_rows(
    day: Day,
    group: str,
    round_of_day: float,
    shift: dict[str, float],
    effect: dict[str, float],
    chance: random.Random,
    hands_in: random.Random,
) -> Iterator[list[object]]:
    def row(outcome: str, value: float, player: str = "", change: int | str = "", form: str = "", kind: str = "") -> list[object]:
        return [day.name, outcome, f"{value:g}", group, player, kind, change, form]

    yield row("round_min", round(round_of_day + chance.gauss(0, 9), 1), change=1)
    yield row("rulings", _count(chance, 2.0 + effect["rulings"]), change=3)
    yield row("disputes", _count(chance, 0.02), change=4)
    for _ in range(SEARCHES_A_GROUP):
        looked = chance.gauss(112 + shift["search_s"] + effect["search_s"], 35)
        yield row("search_s", round(min(max(looked, 5), 120 if day.is_trial else 180)), change=1)
    for _ in range(RELIEFS_A_GROUP):
        yield row("relief_s", round(62 * 2.718281828 ** (chance.gauss(0, 0.35) + shift["relief_s"])), change=2)
    for player in (f"{group}-{letter}" for letter in "abc"):
        yield row("strokes", round(chance.gauss(88 + shift["strokes"] + effect["strokes"], 5)), player, 1)
        yield row("penalty_strokes", _count(chance, 1.1 + effect["penalty_strokes"]), player, 3)
        kind, likely = BANDS[player[-1]]
        answers = list(_answers(day, row, player, kind, chance))
        yield from answers if hands_in.random() < likely else ()


def _answers(day: Day, row: Callable[..., list[object]], player: str, kind: str, chance: random.Random) -> Iterator[list[object]]:
    """Players are asked after a trial day: what came up, and how fair they found it."""
    if not day.is_trial:
        return
    for change, met, liked in ((1, 1.2, 0.7), (2, 0.8, 0.55), (3, 0.6, 0.35), (4, 0.0, 0.5)):
        came_up = _count(chance, met)
        yield row("change_met", came_up, player, change, "2026-03-01", kind)
        if came_up:
            yield row("fair", 1 + sum(chance.random() < liked for _ in range(4)), player, change, "2026-03-01", kind)


def _count(chance: random.Random, mean: float) -> int:
    """A count with that mean, by waiting times."""
    if mean <= 0:
        return 0
    found, left = 0, mean
    while (left := left - chance.expovariate(1.0)) > 0:
        found += 1
    return found


def season_files() -> dict[str, str]:
    """The three tables of the season."""
    chance = random.Random(SEED)
    season = days()
    return {"days.csv": _csv(day_rows(season, chance)), "values.csv": _csv(value_rows(season, chance)), "asked.csv": _csv(asked_rows())}


def _csv(rows: Iterator[list[object]]) -> str:
    text = StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    return text.getvalue()


if __name__ == "__main__":
    for name, text in season_files().items():
        (HERE / name).write_text(text, encoding="utf-8")
        print(f"Written: {HERE / name}")
