"""Seasons of units that are drawn singly, by chance: days, groups and players differ, and the trial rules do what is built in."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

from marram.office.trials.planned_trial import DrawnUnit
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords


@dataclass(frozen=True, kw_only=True)
class Built:
    """What is built in: the level, what the trial rules and the second round change, and by how much days, groups and rows differ."""

    level: float = 100.0
    trial: float = 0.0
    second_round: float = 0.0
    sd_day: float = 5.0
    sd_group: float = 4.0
    sd_row: float = 6.0


def days_of_units(drawn: Iterable[DrawnUnit], **facts: str) -> tuple[TrialDay, ...]:
    """The days of what was drawn, a week apart."""
    names = dict.fromkeys(unit.day for unit in drawn)
    return tuple(
        TrialDay(day=name, dated=date(2026, 4, 4) + timedelta(weeks=week), pair="", arm=None, course="Moor", facts=tuple(facts.items()))
        for week, name in enumerate(names)
    )


def rows_of_units(
    drawn: Iterable[DrawnUnit], outcome: str, built: Built, chance: Random, players: int = 3, of: Callable[[float], float] = float
) -> list[Observation]:
    """A row for each player of each unit and round; a day of half of the field has players of its own, without groups."""
    days: dict[tuple[str, str], float] = {}
    found = []
    for unit in drawn:
        level = built.level + days.setdefault((unit.day, unit.period), chance.gauss(0, built.sd_day)) + chance.gauss(0, built.sd_group)
        for number, arm in enumerate(unit.rules, start=1):
            for player in range(players):
                value = level + (number == 2) * built.second_round + (arm is Arm.TRIAL) * built.trial + chance.gauss(0, built.sd_row)
                found.append(
                    Observation(
                        day=unit.day,
                        outcome=outcome,
                        value=of(value),
                        group=unit.group,
                        player=f"{unit.day}{unit.group}{unit.period}{player}",
                        round=number if len(unit.rules) > 1 else None,
                        arm=arm,
                        period=unit.period,
                    )
                )
    return found


def as_tables(records: TrialRecords) -> tuple[str, str]:
    """The tables of days and of values, as officials bring them back."""
    days = ["day,date,rules,course,wash-out"]
    days += [f"{day.day},{day.dated.isoformat()},both,{day.course},{dict(day.facts).get('wash-out', '')}" for day in records.days]
    values = ["day,outcome,value,group,player,round,arm,period"]
    values += [
        f"{row.day},{row.outcome},{row.value:.2f},{row.group},{row.player},{row.round or ''},{row.arm or ''},{row.period}"
        for row in records.observations
    ]
    return "\n".join(days) + "\n", "\n".join(values) + "\n"
