"""A player's record of scores as a table (CSV or workbook), read strictly: every fault in one pass, by row and column."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path

from marram.core.errors import HandicapError
from marram.core.words import shortly
from marram.handicaps.record_checks import RecordFault, RecordLimits, faults_of_order, faults_of_round
from marram.handicaps.rounding import as_written
from marram.handicaps.score_record import RoundPosted
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.field.written_dates import date_written
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import Table, read_rows, read_table

HINT = "See docs/formats/handicap-record.md."
_COLUMNS: Mapping[str, Sequence[str]] = {
    "date": ["day", "played"],
    "holes": [],
    "adjusted_gross": ["adjusted gross score", "ags", "gross", "score"],
    "course_rating": ["rating", "cr"],
    "slope": ["slope rating", "sr"],
    "conditions": ["playing conditions", "pcc"],
    "expected": ["expected differential"],
    "differential": ["score differential"],
    "index": ["handicap index", "hi"],
    "round": [],
}
_NEEDED = [["date", "adjusted_gross", "course_rating", "slope"], ["date", "differential"]]
_ROW = re.compile(r"row (\d+)")
_NO_DAY = date.min
"""The day of a round whose date cannot be read: of such a one everything else is looked at, and its place in the record is not."""
_WIDE = 9999
"""So far a number is read; what it can be is known by the rules."""
_DIFFERENTIAL = (Fraction(-30), Fraction(150))
"""What a differential can be: our own limits."""


def read_record(path: Path, limits: RecordLimits, *, last_day: date | None) -> tuple[RoundPosted, ...]:
    """Read a record.

    Args:
        path: The table.
        limits: What its figures can be, under the books that are asked.
        last_day: The day on which the record is looked at; None where any day may stand.

    Raises:
        HandicapError: The file cannot be read, or rows have faults; all of them are told.
    """
    table = read_table(path, _COLUMNS, _NEEDED, what="a record of scores", error=HandicapError)
    faults = Faults(where=table.where, error=HandicapError, hint=HINT)
    found: list[RoundPosted] = []

    def take(row: RowReader) -> None:
        played = _round(row)
        _note(faults, faults_of_round(played, limits))
        if played.day != _NO_DAY:
            found.append(played)

    read_rows(table, faults, take)
    _refuse_nothing(table, faults)
    _note(faults, faults_of_order(found, last_day))
    faults.told.sort(key=_row_of)
    faults.refuse()
    return tuple(found)


def refuse_faults(where: str, found: Iterable[RecordFault]) -> None:
    """Stop where a record has faults that only its own course shows.

    Raises:
        HandicapError: With every fault.
    """
    faults = Faults(where=where, error=HandicapError, hint=HINT)
    _note(faults, found)
    faults.refuse()


def _refuse_nothing(table: Table, faults: Faults) -> None:
    if not table.rows:
        faults.add("the table", "there is no row below the heading")


def _note(faults: Faults, found: Iterable[RecordFault]) -> None:
    """Note faults, but none of a cell of which something is told already: what cannot be read is not missing besides."""
    for fault in found:
        place = f"row {fault.number}, column {fault.column}"
        if not any(told.startswith(f"{place}: ") for told in faults.told):
            faults.add(place, fault.message)


def _row_of(told: str) -> int:
    """The row of a fault; what is told of the whole table stands first."""
    found = _ROW.match(told)
    return int(found[1]) if found else 0


def _round(row: RowReader) -> RoundPosted:
    """A round, as far as it can be read."""
    day = _day(row)
    holes = row.whole("holes", least=HALF_ROUND, most=FULL_ROUND)
    gross = row.whole("adjusted_gross", least=-_WIDE, most=_WIDE)
    rating = _number(row, "course_rating")
    slope = row.whole("slope", least=-_WIDE, most=_WIDE)
    conditions = row.whole("conditions", least=-_WIDE, most=_WIDE)
    expected = _number(row, "expected")
    stated, index = _handicap(row, "differential", _differential), _handicap(row, "index", _index)
    return RoundPosted(
        number=row.row.number,
        day=day,
        holes=FULL_ROUND if holes is None else holes,
        adjusted_gross=gross,
        course_rating=rating,
        slope=slope,
        conditions=0 if conditions is None else conditions,
        expected=expected,
        stated=stated,
        index=index,
        round=row.text("round"),
    )


def _day(row: RowReader) -> date:
    text = row.text("date")
    found = date_written(text) if text else "nothing stands here; expected year-month-day, such as 2026-04-18"
    if isinstance(found, date):
        return found
    row.fault("date", found)
    return _NO_DAY


def _number(row: RowReader, column: str) -> Fraction | None:
    found = row.number(column, least=-_WIDE, most=_WIDE)
    return None if found is None else as_written(found)


def _handicap(row: RowReader, column: str, read: Callable[[str], Fraction]) -> Fraction | None:
    text = row.figure(column)
    if not text:
        return None
    try:
        return read(text)
    except HandicapError as problem:
        row.fault(column, f"{problem.message} {problem.hint}".rstrip("."))
        return None


def _index(text: str) -> Fraction:
    return read_handicap(text, decimals=1)


def _differential(text: str) -> Fraction:
    """A differential: one below zero stands with a minus, or as a plus handicap with its plus."""
    negative = text.replace("\N{MINUS SIGN}", "-").startswith("-")
    found = -read_handicap(text[1:]) if negative else read_handicap(text)
    if not _DIFFERENTIAL[0] <= found <= _DIFFERENTIAL[1]:
        raise HandicapError(f"{shortly(text)} cannot be a differential.", hint=f"Expected {_DIFFERENTIAL[0]} to {_DIFFERENTIAL[1]}.")
    return found
