"""The season of designs that draw whole days: pairs, days with some of the changes, and courses that go over one after another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from marram.evidence.plan import DrawnPair
from marram.evidence.telling.season import Cell, Season, SeasonColumn, days_held, note_of
from marram.records.rows import Arm, TrialDay, TrialRecords


def season_of_pairs(records: TrialRecords, weighed: frozenset[str], planned: Sequence[DrawnPair]) -> Season:
    """Pairs of days in the order that they were played, a pair that was planned and not played where it stands in the plan.

    Args:
        records: What was recorded.
        weighed: Days of which any value is weighed.
        planned: The pairs of the plan; none where there is no plan, or none of its pairs was played.
    """
    names = dict.fromkeys([*(pair.pair for pair in planned), *(day.pair or day.day for day in records.days)])
    of_pair = {name: [day for day in records.days if (day.pair or day.day) == name] for name in names}
    drawn, held = {pair.pair: pair for pair in planned}, days_held(records)
    is_of_plan = any(of_pair[pair.pair] for pair in planned)
    columns: list[SeasonColumn] = []
    for name in _in_order(of_pair):
        days = of_pair[name]
        if days:
            whole = len(days) == len(Arm) and all(day.day in held for day in days)
            columns += [_day(records, day, held, weighed if whole or not day.pair else frozenset(), ((day.arm,),)) for day in days]
        elif is_of_plan:
            columns += [_not_held(f"{name}, day {place}", name) for place, _ in enumerate((drawn[name].first, drawn[name].second), 1)]
    return Season(each="day", unit="day", rows=("",), joins="one pair", columns=tuple(columns), is_planned=bool(planned))


def _in_order(of_pair: Mapping[str, Sequence[TrialDay]]) -> list[str]:
    """Pairs by their first day; one without days after that which stands before it."""
    latest, keys = date.min, {}
    for place, (name, days) in enumerate(of_pair.items()):
        latest = min((day.dated for day in days), default=latest)
        keys[name] = (latest, place)
    return sorted(of_pair, key=lambda name: keys[name])


def _not_held(name: str, joined: str = "", rows: int = 1) -> SeasonColumn:
    return SeasonColumn(name=name, joined=joined, is_held=False, is_weighed=False, cells=((None,),) * rows)


def _day(
    records: TrialRecords, day: TrialDay, held: frozenset[str], weighed: frozenset[str], cells: tuple[Cell, ...], joined: str | None = None
) -> SeasonColumn:
    is_held = day.day in held
    return SeasonColumn(
        name=day.day,
        dated=day.dated,
        joined=day.pair if joined is None else joined,
        is_held=is_held,
        is_weighed=is_held and day.day in weighed,
        reason="" if is_held else note_of(records, day.day),
        cells=cells if is_held else tuple((None,) * len(cell) for cell in cells),
    )


def season_of_changes(
    records: TrialRecords, weighed: frozenset[str], planned: Sequence[str], changes: Sequence[int], blocks: Mapping[str, str]
) -> Season:
    """Days with a row for each change: on under the trial rule, off under the ordinary one.

    Args:
        records: What was recorded.
        weighed: Days of which any value is weighed.
        planned: Names of the days of the plan; none where there is no plan.
        changes: Numbers of the changes.
        blocks: What days are held together by, by name of the day.
    """
    played, held = {day.day: day for day in records.days}, days_held(records)
    columns = []
    for name in dict.fromkeys([*planned, *played]):
        if name not in played:
            columns.append(_not_held(name, blocks.get(name, ""), len(changes)))
            continue
        on = played[name].changes or ()
        cells = tuple((Arm.TRIAL if number in on else Arm.ORDINARY,) for number in changes)
        columns.append(_day(records, played[name], held, weighed, cells, blocks.get(name, "")))
    return Season(
        each="day",
        unit="day",
        rows=tuple(f"change {number}" for number in changes),
        joins="one block" if any(blocks.values()) else "",
        columns=tuple(columns),
        is_planned=bool(planned),
    )


def season_of_steps(records: TrialRecords, weighed: frozenset[str], planned: Mapping[str, Sequence[Arm]]) -> Season:
    """Periods with a row for each course: from its step on under the trial rules.

    Args:
        records: What was recorded.
        weighed: Days of which any value is weighed.
        planned: The rules of each course in each period of the plan; none where there is no plan.
    """
    held = days_held(records)
    courses = tuple(dict.fromkeys([*planned, *(day.course for day in records.days)]))
    lasts = [len(rules) for rules in planned.values()] + [int(day.period) for day in records.days if day.period.isdigit()]
    columns = []
    for period in range(1, max(lasts, default=0) + 1):
        own = [day for day in records.days if day.period == str(period) and day.day in held]
        arms = {day.course: day.arm for day in own}
        lost = [day for day in records.days if day.period == str(period) and day.day not in held]
        columns.append(
            SeasonColumn(
                name=f"period {period}",
                dated=min((day.dated for day in own), default=None),
                is_held=bool(own),
                is_weighed=any(day.day in weighed for day in own),
                reason=next((note for day in lost if (note := note_of(records, day.day))), ""),
                cells=tuple((arms.get(course),) for course in courses),
                cells_weighed=len({day.course for day in own if day.day in weighed}),
            )
        )
    return Season(each="period", unit="course", rows=courses, joins="", columns=tuple(columns), is_planned=bool(planned))
