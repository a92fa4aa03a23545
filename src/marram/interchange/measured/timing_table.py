"""A table of timings: when each group began a hole and when it had cleared the green, with every fault told by row."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise
from pathlib import Path

from marram.core.errors import RecordError
from marram.interchange.field.written_values import clock_s
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import read_rows, read_table
from marram.records.timings import HoleTiming

_COLUMNS = {"day": [], "group": [], "hole": [], "began": ["teed off", "first tee shot"], "cleared": ["green clear", "green cleared"]}
_LONGEST_MIN = 60
_MOST_HOLE = 36
_HINT = "See docs/formats/timings.md."


def read_timings(path: Path, holes: Collection[int]) -> tuple[HoleTiming, ...]:
    """Read a table of timings.

    Args:
        path: The table: day, group, hole, began and cleared.
        holes: Numbers of the holes of the course.

    Raises:
        RecordError: Rows have faults, or a group overtakes another; all of them are told.
    """
    table = read_table(path, _COLUMNS, [list(_COLUMNS)], what="a table of timings", error=RecordError)
    faults = Faults(where=table.where, error=RecordError, hint=_HINT)
    found: list[HoleTiming] = []
    read_rows(table, faults, lambda row: found.extend(_timing(row, holes)))
    faults.refuse()
    for told in (*_doubles(found), *_overtaking(found), *_in_two_places(found)):
        faults.add(*told)
    faults.refuse()
    return tuple(found)


def _timing(row: RowReader, holes: Collection[int]) -> Iterator[HoleTiming]:
    day, group = row.text("day"), row.text("group")
    for column, text in (("day", day), ("group", group)):
        if not text:
            row.fault(column, "is empty")
    hole = row.whole("hole", least=1, most=_MOST_HOLE)
    if hole is None and not row.text("hole"):
        row.fault("hole", "is empty")
    elif hole is not None and hole not in holes:
        row.fault("hole", f"the course has no hole {hole}")
    began, cleared = clock_s(row, "began"), clock_s(row, "cleared")
    if began is None or cleared is None or hole is None or not day or not group:
        return
    if not 0 < cleared - began <= _LONGEST_MIN * 60:
        row.fault("cleared", f"{row.text('cleared')} is no time to clear a green begun at {row.text('began')}; up to an hour is meant")
        return
    yield HoleTiming(day=day, group=group, hole=hole, began_s=began, cleared_s=cleared)


def _doubles(found: Sequence[HoleTiming]) -> Iterator[tuple[str, str]]:
    seen: set[tuple[str, str, int]] = set()
    for one in found:
        key = (one.day, one.group, one.hole)
        if key in seen:
            yield f"day {one.day}", f"group {one.group} stands twice on hole {one.hole}"
        seen.add(key)


def _overtaking(found: Sequence[HoleTiming]) -> Iterator[tuple[str, str]]:
    """Groups that began a hole after another and cleared its green before it."""
    for day, hole in dict.fromkeys((one.day, one.hole) for one in found):
        on_hole = sorted((one for one in found if (one.day, one.hole) == (day, hole)), key=lambda one: (one.began_s, one.cleared_s))
        for ahead, behind in pairwise(on_hole):
            if behind.cleared_s < ahead.cleared_s:
                yield f"day {day}", f"on hole {hole} group {behind.group} begins after group {ahead.group} and clears the green before it"


def _in_two_places(found: Sequence[HoleTiming]) -> Iterator[tuple[str, str]]:
    """Groups that begin a hole while they are still on another."""
    for day, group in dict.fromkeys((one.day, one.group) for one in found):
        of_group = sorted((one for one in found if (one.day, one.group) == (day, group)), key=lambda one: one.began_s)
        for before, after in pairwise(of_group):
            if after.began_s < before.cleared_s:
                yield f"day {day}", f"group {group} begins hole {after.hole} before it has cleared the green of hole {before.hole}"
