"""The season of designs that draw groups or halves of the field: days with what was drawn on each, by round or by wave."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping

from marram.evidence.designs.drawn_units import FIRST_WAVE, SECOND_WAVE, Drawing, Unit
from marram.evidence.telling.season import Cell, Season, SeasonColumn, days_held, note_of
from marram.records.rows import Arm, TrialRecords

_ROUNDS = (1, 2)
_Places = Mapping[Unit, Mapping[str, Arm]]
"""Of each unit its rules by the row of the season that it stands in."""


def season_of_units(records: TrialRecords, weighed: frozenset[str], drawing: Drawing, unit: str) -> Season:
    """Days, or events of two rounds, each with its groups or its half of the field.

    Args:
        records: What was recorded.
        weighed: Days of which any value is weighed.
        drawing: What was drawn.
        unit: What was drawn, one of it.
    """
    events = drawing.events(records)
    days_of: dict[str, list[str]] = defaultdict(list)
    for day in records.days:
        days_of[events[day.day]].append(day.day)
    played = _played(records, drawing, events)
    places = {**played, **_drawn(drawing)}
    rows = _rows(drawing, places)
    dated, held = {day.day: day.dated for day in records.days}, days_held(records)
    columns = []
    for event in dict.fromkeys([*(unit.event for unit in drawing.rules), *days_of]):
        own = days_of.get(event, [])
        is_held = any(day in held for day in own)
        columns.append(
            SeasonColumn(
                name=event,
                dated=min((dated[day] for day in own), default=None),
                is_held=is_held,
                is_weighed=any(day in weighed for day in own),
                reason="" if is_held else next((note for day in own if (note := note_of(records, day))), ""),
                cells=_cells(event, rows, places, played),
            )
        )
    is_of_two_days = any(len(days) > 1 for days in days_of.values())
    return Season(
        each="event" if is_of_two_days else "day",
        unit=unit,
        rows=rows,
        joins="",
        columns=tuple(columns),
        is_planned=bool(drawing.rules),
    )


def _drawn(drawing: Drawing) -> _Places:
    """The rules of each unit as it was drawn."""
    if drawing.is_in_turn:
        return {unit: {f"round {place}": arm for place, arm in enumerate(rules, 1)} for unit, rules in drawing.rules.items()}
    return {unit: {unit.period: rules[0]} for unit, rules in drawing.rules.items() if rules}


def _played(records: TrialRecords, drawing: Drawing, events: Mapping[str, str]) -> _Places:
    """The rules of each unit as they were recorded."""
    arm_of, found = records.arm_finder(), defaultdict[Unit, dict[str, Arm]](dict)
    for entry in records.observations:
        unit, arm = drawing.unit_of(entry, events), arm_of(entry)
        if unit is None or arm is None or (drawing.is_in_turn and entry.round is None):
            continue
        found[unit].setdefault(f"round {entry.round}" if drawing.is_in_turn else unit.period, arm)
    return dict(found)


def _rows(drawing: Drawing, places: _Places) -> tuple[str, ...]:
    """The rows of the season: rounds, or the waves that there are."""
    if drawing.is_in_turn:
        return tuple(f"round {number}" for number in _ROUNDS)
    named = {row for own in places.values() for row in own}
    known = [wave for wave in ("", FIRST_WAVE, SECOND_WAVE) if wave in named]
    return (*known, *sorted(named - set(known))) or ("",)


def _cells(event: str, rows: tuple[str, ...], places: _Places, played: Collection[Unit]) -> tuple[Cell, ...]:
    """What stands in each row of a day: its units, those that play ordinary rules first before the others, the missing last."""
    own = [unit for unit in places if unit.event == event]
    order = list(Arm)[::-1]
    ranked = sorted(own, key=lambda unit: (unit not in played, order.index(next(iter(places[unit].values()))), unit.name))
    return tuple(tuple(places[unit][row] if unit in played else None for unit in ranked if row in places[unit]) for row in rows)
