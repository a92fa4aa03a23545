"""What a plan has drawn, as plain text: the coin of each pair of days, or what each day's groups play."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.office.trials.planned_trial import DrawnUnit, PlannedTrial

_WIDTH = 100


def drawn_lines(planned: PlannedTrial) -> list[str]:
    """What was drawn, and what must hold for the design to be believed."""
    from marram.answers.shape import UNSET

    if planned.drawn is UNSET:
        return ["The coin: " + ", ".join(f"{pair.pair} first day {pair.first_day}" for pair in planned.pairs) + "."]
    if planned.aliases is not UNSET or all(not unit.day for unit in planned.drawn):
        return [fill(line, _WIDTH, subsequent_indent="   ") for line in _lines_of_designs(planned, planned.drawn)]
    lots: dict[tuple[str, str], list[DrawnUnit]] = {}
    for unit in planned.drawn:
        where = f"{unit.day} {unit.period}".rstrip() if unit.group else "Days"
        lots.setdefault((where, _rules(unit)), []).append(unit)
    lines = [f"{where}, {rules}: {', '.join(unit.group or unit.unit for unit in units)}." for (where, rules), units in sorted(lots.items())]
    told = [fill(line, _WIDTH, subsequent_indent="   ") for line in lines]
    advice = () if planned.advice is UNSET else planned.advice
    return [*told, *(fill(line, _WIDTH, subsequent_indent="   ") for line in advice)]


def _lines_of_designs(planned: PlannedTrial, drawn: Sequence[DrawnUnit]) -> Iterator[str]:
    """The days with the changes that are on and what no day tells apart, or the period from which each course plays trial rules."""
    from marram.answers.shape import UNSET

    for unit in drawn:
        if unit.changes is UNSET:
            yield f"{unit.unit}: trial rules from period {[rules.value for rules in unit.rules].index('trial') + 1} on."
        else:
            yield f"{unit.day} ({unit.period}): {_on_words(unit.changes)}."
    yield from (f"Change {alias.change} {alias.words}." for alias in (() if planned.aliases is UNSET else planned.aliases))
    yield from (() if planned.advice is UNSET else planned.advice)


def _on_words(changes: Sequence[int]) -> str:
    if not changes:
        return "no change on, the ordinary rules"
    return f"{'change' if len(changes) == 1 else 'changes'} {' '.join(map(str, changes))} on"


def _rules(unit: DrawnUnit) -> str:
    return " first, then ".join(rules.value for rules in unit.rules) + " rules"
