"""A value of an outcome as somebody wrote it down: a figure in its unit, yes or no, a time in words or with a colon; and times of day."""

from __future__ import annotations

import re

from marram.interchange.field.written_dates import time_written_s
from marram.interchange.tables.table_rows import RowReader
from marram.records.outcomes import Outcome

YES = {"yes": 1.0, "no": 0.0, "true": 1.0, "false": 0.0}
SECONDS_IN = {"s": 1, "min": 60}
"""How many seconds a unit of time has."""
_CLOCK_PART = re.compile(r"\d{1,2}", re.ASCII)


def value_written(row: RowReader, column: str, outcome: Outcome) -> float | None:
    """The value in a cell, in the unit of the outcome, however it was written down; None where it is none, with a fault noted.

    Args:
        row: The row.
        column: The column.
        outcome: The outcome.
    """
    typed = row.text(column).lower()
    if outcome.unit == "yes-no" and typed in YES:
        return YES[typed]
    took_s = time_written_s(typed, outcome.unit) if outcome.unit in SECONDS_IN else None
    if took_s is None:
        return row.number(column, least=outcome.least, most=outcome.most, unit=outcome.unit)
    return within(row, column, took_s / SECONDS_IN[outcome.unit], outcome)


def within(row: RowReader, column: str, value: float, outcome: Outcome) -> float | None:
    """A value where it can be meant; None with a fault noted where it cannot.

    Args:
        row: The row.
        column: The column.
        value: The value, in the unit of the outcome.
        outcome: The outcome.
    """
    if not outcome.least <= value <= outcome.most:
        row.fault(column, f"{value:g} {outcome.unit} cannot be; expected {outcome.least:g} to {outcome.most:g}")
        return None
    return value


def clock_s(row: RowReader, column: str) -> int | None:
    """A time of day in seconds from midnight; None where it is none, with a fault noted.

    Args:
        row: The row.
        column: The column.
    """
    parts = row.text(column).split(":")
    if len(parts) in {2, 3} and all(_CLOCK_PART.fullmatch(part) for part in parts):
        hours, minutes, *seconds = map(int, parts)
        if hours < 24 and minutes < 60 and all(second < 60 for second in seconds):
            return hours * 3600 + minutes * 60 + sum(seconds)
    row.fault(column, f"{row.text(column)!r} is no time of day; expected such as 10:42 or 10:42:30")
    return None
