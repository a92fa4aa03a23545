"""What several people recorded of one and the same thing: it counts once, and their readings are kept to see how far they agree."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from marram.interchange.tables.table_rows import Faults
from marram.records.outcomes import Weighing, outcomes
from marram.records.rows import Arm, LeftOutRow, Observation, Readings

_MEASURED = frozenset({Weighing.MEAN, Weighing.LOG_MEAN})
_COUNTED = "count"
_AVERAGED = "another recorder's reading of the same, averaged with the first"


@dataclass(frozen=True, slots=True, kw_only=True)
class OneEach:
    """Values with one for each thing.

    Attributes:
        observations: The values, readings of one thing averaged.
        readings: What was read of each thing by several.
        left_out: Rows that count no more for themselves.
    """

    observations: list[Observation]
    readings: tuple[Readings, ...]
    left_out: tuple[LeftOutRow, ...]


def one_for_each(observations: Sequence[Observation], faults: Faults) -> OneEach:
    """One value for each thing that was recorded, however many recorded it.

    Args:
        observations: The values as they were read.
        faults: Where it is noted that readings cannot be told apart.
    """
    lots: dict[object, list[Observation]] = defaultdict(list)
    for number, entry in enumerate(observations):
        lots[_thing(entry) if entry.recorder and _is_somebodys(entry) else number].append(entry)
    found: list[Observation] = []
    readings: list[Readings] = []
    left_out: list[LeftOutRow] = []
    for rows in lots.values():
        if len({entry.recorder for entry in rows}) < 2:
            found += rows
        elif _are_several_things(rows, faults):
            continue
        elif outcomes()[rows[0].outcome].kind in _MEASURED and outcomes()[rows[0].outcome].unit != _COUNTED:
            found.append(_averaged(rows))
            readings.append(Readings(outcome=rows[0].outcome, values=tuple((entry.recorder, entry.value) for entry in rows)))
            left_out.append(_left_out(rows[1:], _AVERAGED))
        elif len({entry.value for entry in rows}) == 1:
            found.append(rows[0])
            left_out.append(_left_out(rows[1:], "another recorder wrote the same"))
        else:
            told = ", ".join(f"{entry.recorder} {entry.value:g}" for entry in rows)
            left_out.append(replace(_left_out(rows, f"recorders do not agree: {told}"), is_query=True))
    return OneEach(observations=found, readings=tuple(readings), left_out=_by_day(left_out))


def _by_day(rows: Sequence[LeftOutRow]) -> tuple[LeftOutRow, ...]:
    """Rows that were averaged, told once for each day and outcome; what is queried stays as it is."""
    counts: Counter[tuple[str, str, str, Arm | None]] = Counter()
    for row in rows:
        if not row.is_query:
            counts[row.day, row.outcome, row.reason, row.arm] += row.rows
    together = [
        LeftOutRow(where=f"day {day}, {count} rows", reason=reason, day=day, outcome=outcome, rows=count, arm=arm)
        for (day, outcome, reason, arm), count in counts.items()
    ]
    return (*together, *(row for row in rows if row.is_query))


def _thing(entry: Observation) -> tuple[object, ...]:
    return entry.day, entry.outcome, entry.group, entry.player, entry.hole, entry.change, entry.round, entry.period


def _is_somebodys(entry: Observation) -> bool:
    """Whether a value says whose it is, so that two of them may be of one thing; answers are each player's own."""
    return bool(entry.group or entry.player) and not outcomes()[entry.outcome].is_answer


def _are_several_things(rows: Sequence[Observation], faults: Faults) -> bool:
    """Whether somebody recorded more than one, so that nobody can tell which readings belong together."""
    counts = Counter(entry.recorder for entry in rows)
    twice = next((name for name, count in counts.items() if count > 1), None)
    if twice is None:
        return False
    place = rows[0].where.rpartition(", ")[2]
    what = f"{rows[0].outcome} of day {rows[0].day} stands {counts[twice]} times from recorder {twice}, and others recorded it too"
    faults.add(f"{place}, column recorder", f"{what}: say by hole or player which belong together")
    return True


def _averaged(rows: Sequence[Observation]) -> Observation:
    first, *rest = rows
    places = " and ".join(entry.where.rpartition(", ")[2].removeprefix("row ") for entry in rest)
    where = f"{first.where} and {places}" if first.where else ""
    return replace(first, value=fmean(entry.value for entry in rows), is_checked=any(entry.is_checked for entry in rows), where=where)


def _left_out(rows: Sequence[Observation], reason: str) -> LeftOutRow:
    first = rows[0]
    return LeftOutRow(where=first.where, reason=reason, day=first.day, outcome=first.outcome, rows=len(rows), arm=first.arm)
