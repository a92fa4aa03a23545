"""The season as it was played: days in a row, each with the rules of what was drawn on it, held or lost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from marram.records.rows import Arm, TrialDay, TrialRecords

Cell = tuple[Arm | None, ...]
"""The rules of each unit that was drawn in one place; None for one that did not play."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonColumn:
    """One day, event or period of the season.

    Attributes:
        name: Its name.
        dated: Its date; None where it was not held, or is a span of days.
        joined: Name of the pair that it belongs to; empty where days stand alone.
        is_held: Whether anything was recorded of it.
        is_weighed: Whether any value of it is weighed.
        reason: Why it, or a part of it, was lost, as it was written down; empty where all was held or nobody wrote it down.
        cells: One for each row of the season.
        cells_weighed: How many of these have a value that is weighed, where each row is held by itself.
    """

    name: str
    dated: date | None = None
    joined: str = ""
    is_held: bool
    is_weighed: bool
    reason: str = ""
    cells: tuple[Cell, ...]
    cells_weighed: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The season of a trial.

    Attributes:
        each: What a column is: a day, an event or a period.
        unit: What one cell shows the rules of, such as a group.
        rows: What each row is called, such as *round 1*; one empty name where there is one row.
        joins: What a line below joins, such as *one pair*; empty where nothing is joined.
        columns: The columns, in order.
        is_planned: Whether a plan says what was to be held.
    """

    each: str
    unit: str
    rows: tuple[str, ...]
    joins: str
    columns: tuple[SeasonColumn, ...]
    is_planned: bool

    @property
    def lost(self) -> tuple[SeasonColumn, ...]:
        """What was planned or begun and has no record."""
        return tuple(column for column in self.columns if not column.is_held)

    @property
    def drawn_words(self) -> str:
        """The row of days in words, for those who cannot see it."""
        if not self.columns:
            return "No day."
        return "; ".join(f"{column.name}: {self._told(column)}" for column in self.columns) + "."

    def _told(self, column: SeasonColumn) -> str:
        if not column.is_held:
            return f"not held, {column.reason}" if column.reason else "not held"
        told = [
            f"{row} {_arms(cell)}".strip()
            for row, cell in zip(self.rows, column.cells, strict=True)
            if any(arm is not None for arm in cell)
        ]
        return ", ".join(told) or "held"


def _arms(cell: Cell) -> str:
    if len(cell) == 1:
        return "not played" if cell[0] is None else cell[0].value
    told = [f"{cell.count(arm)} {arm.value}" for arm in Arm if arm in cell]
    return " and ".join([*told, *([f"{cell.count(None)} not played"] if None in cell else [])])


TO_COME = "to come"
"""Why a day was not held that the plan has after the last one that was, while the plan goes on."""


def still_to_come(season: Season) -> Season:
    """The season of a plan that goes on: what follows the last day that was held is still to come."""
    last = max((place for place, column in enumerate(season.columns) if column.is_held), default=-1)
    columns = tuple(
        replace(column, reason=column.reason or TO_COME) if place > last else column for place, column in enumerate(season.columns)
    )
    return replace(season, columns=columns)


def days_held(records: TrialRecords) -> frozenset[str]:
    """Names of the days of which any row was read."""
    named = {entry.day for entry in records.observations} | {row.day for row in records.left_out if row.day}
    return frozenset(named | {day.day for day in records.days if why_left_out(records, day)})


def why_left_out(records: TrialRecords, day: TrialDay) -> str:
    """Why all rows of a day, or of its pair, are left out together; empty where they are not."""
    names = {f"pair {day.event}", f"day {day.event}"}
    return next((row.reason for row in records.left_out if not row.day and row.where in names), "")


def note_of(records: TrialRecords, day: str) -> str:
    """What the table of days notes of a day; empty where it notes nothing."""
    return next((dict(entry.facts).get("note", "") for entry in records.days if entry.day == day), "")
