"""A table of drops that were measured in the field, with every fault told by row."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from marram.core.errors import RecordError
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.measured_drops import MeasuredDrop

_COLUMNS: dict[str, list[str]] = {"ground": [], "slope": ["slope deg"], "height": ["height m"], "rest": ["rest m", "distance"]}
_HINT = "See docs/formats/drops.md."


def read_drops(path: Path, grounds: Collection[str]) -> tuple[MeasuredDrop, ...]:
    """Read a table of measured drops.

    Args:
        path: The table: ground, slope in degrees, height and rest in metres.
        grounds: The kinds of ground there are.

    Raises:
        RecordError: Rows have faults; all of them are told.
    """
    table = read_table(path, _COLUMNS, [list(_COLUMNS)], what="a table of measured drops", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    found: list[MeasuredDrop] = []
    read_rows(table, faults, lambda row: found.extend(_drop(row, faults, grounds)))
    faults.refuse()
    return tuple(found)


def _drop(row: RowReader, faults: Faults, grounds: Collection[str]) -> Iterator[MeasuredDrop]:
    before = len(faults.told)
    ground = row.text("ground")
    if ground not in grounds:
        row.fault("ground", f"{ground!r}; expected one of {', '.join(grounds)}")
    slope = row.number("slope", least=0, most=30, unit="deg")
    height = row.number("height", least=0.01, most=3, unit="m")
    rest = row.number("rest", least=0, most=20, unit="m")
    for column, value in (("slope", slope), ("height", height), ("rest", rest)):
        if value is None and not row.text(column):
            row.fault(column, "is empty")
    if len(faults.told) == before and slope is not None and height is not None and rest is not None:
        yield MeasuredDrop(ground=ground, slope_deg=slope, height_m=height, rest_m=rest)
