"""Small seasons of paired days, made by hand or by chance, with whatever trial a test needs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta

from marram.evidence.findings import weigh_trial
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay

KEYS = {
    "search.limit_min": ("3", "2"),
    "relief.lateral.size": ("{ club_lengths = 2 }", "{ club_lengths = 4 }"),
    "overhanging-ball-wait.wait_s": ("10", "20"),
    "relief.small.size": ("{ club_lengths = 1 }", "{ metres = 1 }"),
}
"""Keys of the edition of 2023 with what they hold there and what a trial might put in their place."""


def trial_of(*changes: Mapping[str, str], **more: str) -> Overlay:
    """A trial of changes, each with the TOML of its members; the key is the next of `KEYS` where none is given."""
    lines = ['title = "A trial"', "dated = 2026-03-01", 'on = ["2023"]', *(f"{name} = {value}" for name, value in more.items())]
    for change, (key, (was, now)) in zip(changes, KEYS.items(), strict=False):
        members = {"key": f'"{key}"', "was": was, "now": now, "because": '"Because."'} | dict(change)
        lines += ["[[change]]", *(f"{name} = {value}" for name, value in members.items())]
    return read_overlay("\n".join(lines), name="t", catalogue=packaged_catalogue())


def expecting(outcome: str, matters: float, direction: str = "down", **more: str) -> dict[str, str]:
    """The members of a change that expects something, and observes it."""
    wanted = f'{{ outcome = "{outcome}", direction = "{direction}", matters = {matters} }}'
    return {"expects": wanted, "observes": f'["{outcome}"]'} | more


def days_of(pairs: int, **facts: str) -> tuple[TrialDay, ...]:
    """So many pairs of days, the trial day first, a week apart."""
    first = date(2026, 4, 4)
    return tuple(
        TrialDay(
            day=f"{arm.value}{number}",
            dated=first + timedelta(weeks=2 * number + (arm is Arm.ORDINARY)),
            pair=f"p{number}",
            arm=arm,
            course="Moor",
            facts=tuple(facts.items()),
        )
        for number in range(pairs)
        for arm in Arm
    )


def rows_of(
    days: Iterable[TrialDay], outcome: str, value: Callable[[TrialDay, int], float], groups: int = 10, change: int | None = None
) -> list[Observation]:
    """One row for each group of each day."""
    return [
        Observation(day=day.day, outcome=outcome, value=value(day, group), group=f"g{group}", change=change)
        for day in days
        for group in range(groups)
    ]


def weigh(trial: Overlay, days: Sequence[TrialDay], rows: Iterable[Observation]) -> TrialReport:
    """The report of a season."""
    return weigh_trial(trial, TrialRecords(days=tuple(days), observations=tuple(rows)))


def only(report: TrialReport) -> ChangeFinding:
    """The finding of a trial of one change."""
    (finding,) = report.findings
    return finding


def steady(trial: float, ordinary: float) -> Callable[[TrialDay, int], float]:
    """Values about one mean for each set of rules, with a spread that is the same each time."""

    def value(day: TrialDay, group: int) -> float:
        number = int(day.pair[1:])
        return (trial if day.arm is Arm.TRIAL else ordinary) + (number * 7 + group * 3) % 5 + (number * 3) % 4 * (day.arm is Arm.TRIAL)

    return value
