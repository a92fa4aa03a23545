"""Seasons written out for a frozen plan: its days as they were drawn, and values that rules, courses and days move as a test wants."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any, TypeAlias

from tests.support.running import marram

Drawn: TypeAlias = "dict[str, Any]"
"""Something that was drawn, as the plan holds it."""
FIRST = date(2026, 4, 4)
REPORT = ("trial", "report", "trial.toml", "--days", "days.csv", "--values", "values.csv")
KEYS = (
    ("relief.lateral.size", "{ club_lengths = 2 }", "{ club_lengths = 4 }", "Fewer walks for a place to drop"),
    ("search.limit_min", "3", "2", "Shorter searches"),
    ("overhanging-ball-wait.wait_s", "10", "20", "No hurry at the hole"),
    ("relief.small.size", "{ club_lengths = 1 }", "{ metres = 1 }", "A measure that everybody knows"),
    ("drop-height.height", '"knee-as-when-standing"', '"any-above-ground-and-growth"', "Quicker drops"),
)


def write_trial(folder: Path, changes: int, *, outcome: str = "relief_s", matters: float = 8, status: str = "closed") -> Path:
    """A trial of so many changes that are all to make one outcome less."""
    lines = ['title = "Trial of changes"', "dated = 2026-03-01", 'on = ["2023"]', f'status = "{status}"']
    lines += ["from = 2026-04-01", "until = 2026-12-31"]
    for key, was, now, aim in KEYS[:changes]:
        lines += ["[[change]]", f'key = "{key}"', f"was = {was}", f"now = {now}", 'because = "Play takes long."', f'aim = "{aim}."']
        lines += [f'expects = {{ outcome = "{outcome}", direction = "down", matters = {matters} }}', f'observes = ["{outcome}"]']
    path = folder / "trial.toml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def drawn_in(plan: Path) -> list[Drawn]:
    """What a frozen plan has drawn."""
    found: list[Drawn] = json.loads(plan.read_text(encoding="utf-8"))["drawn"]
    return found


def without_day(folder: Path, day: str) -> None:
    """Take a day out of both tables."""
    for name in ("days.csv", "values.csv"):
        rows = (folder / name).read_text(encoding="utf-8").splitlines()
        (folder / name).write_text("\n".join(row for row in rows if not row.startswith(f"{day},")) + "\n", encoding="utf-8")


def report_of(folder: Path) -> Drawn:
    """The report by the frozen plan."""
    done = marram(*REPORT, "--plan", "plan.json", "--json", cwd=folder)
    assert done.returncode == 0, done.stderr
    found: Drawn = json.loads(done.stdout)
    return found


def write_days(folder: Path, head: str, rows: Sequence[str]) -> None:
    (folder / "days.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")


def write_values(folder: Path, days: Mapping[str, float], *, outcome: str = "relief_s", groups: int = 10, seed: int = 1) -> None:
    """Values of each day about its level."""
    chance = Random(seed)
    rows = [
        f"{day},{outcome},{level + group % 3 + chance.gauss(0, 1):.1f},g{group}" for day, level in days.items() for group in range(groups)
    ]
    (folder / "values.csv").write_text("\n".join(["day,outcome,value,group", *rows]) + "\n", encoding="utf-8")


def season_of_changes(folder: Path, effects: Mapping[int, float], *, other: Mapping[str, str] | None = None, spread: float = 1.0) -> None:
    """The season of a plan of days with some of the changes; `other` says what was written for a day instead."""
    chance, days, levels = Random(9), [], {}
    for place, unit in enumerate(drawn_in(folder / "plan.json")):
        day, on = str(unit["day"]), unit["changes"]
        written = (other or {}).get(day, " ".join(map(str, on)) or "none")
        played = [] if written == "none" else [int(number) for number in written.split()]
        days.append(f"{day},{FIRST + timedelta(days=3 * place)},{written},Moor")
        levels[day] = 60 + chance.gauss(0, spread) + sum(effects.get(number, 0.0) for number in played)
    write_days(folder, "day,date,changes,course", days)
    write_values(folder, levels)


def season_of_steps(
    folder: Path, effect: Callable[[int], float], *, other: Mapping[str, int] | None = None, days: int = 2, spread: float = 1.0
) -> None:
    """The season of a roll-out: courses that differ, a season that rises, and an effect by the periods since the switch.

    `other` says for a course from which period it played the trial rules instead of the one that was drawn.
    """
    chance, rows, levels = Random(12), [], {}
    for place, unit in enumerate(drawn_in(folder / "plan.json")):
        course, rules = str(unit["unit"]), unit["rules"]
        switch = (other or {}).get(course, rules.index("trial") + 1)
        for period in range(1, len(rules) + 1):
            for number in range(days):
                day, on = f"{course[0]}{period}{number}", period >= switch
                dated = FIRST + timedelta(weeks=5 * period + number)
                rows.append(f"{day},{dated},{'trial' if on else 'ordinary'},{course},{period}")
                levels[day] = 60 + 5 * place + 12 * period + chance.gauss(0, spread) + (effect(period - switch) if on else 0.0)
    write_days(folder, "day,date,rules,course,period", rows)
    write_values(folder, levels)
