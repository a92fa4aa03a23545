"""The calendar of a plan to hang up: what was drawn for which day, with places for dates; never the seed."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import UNSET

from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import DrawnUnit
from marram.records.rows import Arm
from marram.sheets.pages.papers_sheet import Calendar, CalendarHead, CalendarRow, RulesTold

_PAIRS_ALIKE = (
    "Choose both days of a pair before the first is played, alike in all but the rules: course, hole locations, green speed, start "
    "interval, field and the day of the week."
)
_PAIRS_LOST = "A day that is lost is played again under the same rules, or its pair is dropped: never exchange the rules of the two days."
_DRAWN = "What stands here was drawn: nobody may exchange it. What is lost is played again as it was drawn, or left out and told."
_NAME, _DATE, _RULES, _REST = 18.0, 30.0, 24.0, 0.0
"""Widths in millimetres; 0 takes what is left."""
_SPARE_LINES, _BLANK_LINES = 2, 14
"""Lines without a name: for days that are played again, or for all where nothing was drawn."""
_FEW_TURNS = 2
"""So many days or rounds stand beside each other with a place for the date of each."""
_NOT_ALIKE = CalendarHead(text="Course, and what was not alike", width_mm=_REST)


def calendar_of(frozen: ReadPlan) -> Calendar:
    """The calendar of a plan.

    Args:
        frozen: The plan as it was frozen.
    """
    drawn, turns = frozen.drawn, max((len(unit.rules) for unit in frozen.drawn), default=0)
    if frozen.pairs:
        pairs = tuple((pair.pair, pair.first.value, "", pair.second.value, "", "") for pair in frozen.pairs)
        return _calendar(frozen, _two_turns("Pair", "day"), pairs, (_PAIRS_ALIKE, _PAIRS_LOST))
    if any(unit.group for unit in drawn):
        return _by_day(frozen, turns)
    if any(unit.changes is not UNSET for unit in drawn):
        some = (_head("Day", _NAME), _head("Date", _DATE), _head("Block", _RULES), _head("Changes that are on", 44.0), _NOT_ALIKE)
        return _calendar(frozen, some, tuple((unit.unit, "", unit.period, _changes(unit), "") for unit in drawn), (_DRAWN,))
    if turns <= _FEW_TURNS:
        single = tuple((unit.unit, *(cell for arm in unit.rules for cell in (arm.value, "")), "") for unit in drawn)
        return _calendar(frozen, (*_two_turns("Drawn", "round")[: 1 + 2 * turns], _NOT_ALIKE), single, (_DRAWN,))
    periods = (_head("Course", _DATE), *(_head(f"Period {number}", _REST) for number in range(1, turns + 1)))
    blank = ("from, to", *("" for _ in range(turns)))
    return _calendar(frozen, periods, (blank, *((unit.unit, *(arm.value for arm in unit.rules)) for unit in drawn)), (_DRAWN,))


def _head(text: str, width_mm: float) -> CalendarHead:
    return CalendarHead(text=text, width_mm=width_mm)


def _two_turns(name: str, turn: str) -> tuple[CalendarHead, ...]:
    """The heading of what has a first and a second day, or round."""
    return (
        _head(name, _NAME),
        _head(f"First {turn}", _RULES),
        _head("Date", _DATE),
        _head(f"Second {turn}", _RULES),
        _head("Date", _DATE),
        _NOT_ALIKE,
    )


def _by_day(frozen: ReadPlan, turns: int) -> Calendar:
    """A line for each day, or each wave of it, with the groups under each set of rules: first, where there are two rounds."""
    where = "in the first round" if turns > 1 else "rules"
    heads = (_head("Day", 26.0), _head("Date", 26.0), _head(f"Trial {where}", _REST), _head(f"Ordinary {where}", _REST))
    days = dict.fromkeys((unit.day, unit.period) for unit in frozen.drawn)
    rows = tuple(
        (
            ", ".join(filter(None, day)),
            "",
            *(_groups([unit for unit in frozen.drawn if (unit.day, unit.period) == day], arm) for arm in Arm),
        )
        for day in days
    )
    return _calendar(frozen, heads, rows, (_DRAWN,))


def _groups(units: Sequence[DrawnUnit], arm: Arm) -> str:
    return ", ".join(unit.group for unit in units if unit.rules[0] is arm)


def _changes(unit: DrawnUnit) -> str:
    return ", ".join(map(str, unit.changes)) if unit.changes is not UNSET and unit.changes else "none"


def _calendar(frozen: ReadPlan, heads: tuple[CalendarHead, ...], lines: tuple[tuple[str, ...], ...], how: tuple[str, ...]) -> Calendar:
    pairs = [CalendarRow(unit=pair.pair, of="", rules=(pair.first.value, pair.second.value), changes=()) for pair in frozen.pairs]
    drawn = [
        CalendarRow(
            unit=unit.unit,
            of=", ".join(filter(None, (unit.day if unit.day != unit.unit else "", unit.period))),
            rules=tuple(arm.value for arm in unit.rules),
            changes=unit.changes if unit.changes is not UNSET else (),
        )
        for unit in frozen.drawn
    ]
    return Calendar(drawn=(*pairs, *drawn), heads=heads, lines=lines, how=how)


def days_of(frozen: ReadPlan | None) -> tuple[tuple[CalendarHead, ...], tuple[tuple[str, ...], ...]]:
    """The table of days to keep: its columns by the names that the report reads, and its lines as far as they were drawn.

    Args:
        frozen: The plan as it was frozen; None where there is none, and then every line is blank.
    """
    drawn = () if frozen is None else frozen.drawn
    if frozen is not None and frozen.pairs:
        named = [("", pair.pair, half.value) for pair in frozen.pairs for half in (pair.first, pair.second)]
        return _table_of_days("Pair", "Rules", named, has_rounds=False)
    if any(unit.changes is not UNSET for unit in drawn):
        return _table_of_days("Period", "Changes", [(unit.unit, unit.period, _changes(unit)) for unit in drawn], has_rounds=False)
    if max((len(unit.rules) for unit in drawn), default=0) > _FEW_TURNS:
        return _table_of_days("Period", "Rules", [], has_rounds=False)
    has_rounds = any(len(unit.rules) > 1 for unit in drawn)
    days = {unit.day or unit.unit: "both" if unit.group or len(unit.rules) > 1 else unit.rules[0].value for unit in drawn}
    return _table_of_days("Pair", "Rules", [(day, "", rules) for day, rules in days.items()], has_rounds=has_rounds)


def _table_of_days(
    of: str, told: str, named: Sequence[tuple[str, str, str]], *, has_rounds: bool
) -> tuple[tuple[CalendarHead, ...], tuple[tuple[str, ...], ...]]:
    washed = (_head("Wash-out (yes or no)", 16.0),) if has_rounds else ()
    heads = (
        *(_head("Day", 20.0), _head("Date", 24.0), _head(of, 15.0), _head(told, 19.0), _head("Course", 30.0)),
        *(_head("Field (players)", 17.0), _head("Start interval (min)", 18.0), _head("Wind", 19.0), _head("Rain", 17.0)),
        *(_head("Green speed", 17.0), _head("Hole locations", 21.0), *washed, _head("Note", _REST)),
    )
    spare = _SPARE_LINES if named else _BLANK_LINES
    lines = [(day, "", belongs, rules) for day, belongs, rules in named] + [("", "", "", "")] * spare
    return heads, tuple((*line, *("" for _ in heads[len(line) :])) for line in lines)


def rules_told_by(frozen: ReadPlan | None) -> RulesTold:
    """Where a paper says under which rules something was seen: once for its day, on each line, or by the changes that were on."""
    drawn = () if frozen is None else frozen.drawn
    if any(unit.changes is not UNSET for unit in drawn):
        return RulesTold.CHANGES
    has_periods = any(len(unit.rules) > _FEW_TURNS for unit in drawn)
    within_a_day = not has_periods and any(unit.group or len(unit.rules) > 1 for unit in drawn)
    return RulesTold.LINE if within_a_day else RulesTold.DAY
