"""Under which rules a value was observed where rules differ within a day: as its row says, or another row of its group and round."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from marram.interchange.tables.table_rows import Faults
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, Observation, TrialDay

Side = tuple[str, str, int | None, str]
"""Day, group, round and part of the day: what is played under one set of rules."""


def with_arms(observations: Sequence[Observation], days: Mapping[str, TrialDay], faults: Faults) -> list[Observation]:
    """The values, each of a day on which rules differ with the rules that it was observed under.

    Args:
        observations: The values as they were read.
        days: The days, by name.
        faults: Where it is noted what is wrong: a group under both rules in one round, a value of which nothing says the rules, rules
            other than those of the day.
    """
    told: dict[Side, dict[Arm, list[Observation]]] = defaultdict(lambda: defaultdict(list))
    for entry in observations:
        if entry.arm is not None and entry.group:
            told[_side(entry)][entry.arm].append(entry)
    for side, by_arm in told.items():
        if len(by_arm) > 1:
            rows = " and ".join(f"{_place(found[0])} {arm.value}" for arm, found in sorted(by_arm.items()))
            slip = "one of them is a slip" + ("" if side[2] is not None else ", or says no round")
            faults.add(_side_words(side), f"has both sets of rules at once: {rows}; {slip}")
    found = []
    for entry in observations:
        day = days.get(entry.day)
        if day is None or (day.arm is not None and entry.arm in {None, day.arm}):
            found.append(entry)
        elif day.arm is not None:
            faults.add(f"{_place(entry)}, column arm", f"{entry.arm}; day {day.day} was played under {day.arm.value} rules")
        else:
            found.append(_with_arm(entry, told, faults))
    return found


def _with_arm(entry: Observation, told: Mapping[Side, Mapping[Arm, Sequence[Observation]]], faults: Faults) -> Observation:
    arms = [entry.arm] if entry.arm is not None else list(told.get(_side(entry), ())) if entry.group else []
    if not arms:
        group = "" if entry.group else " and names no group"
        faults.add(
            f"{_place(entry)}, column arm", f"is empty{group}: rules differ within day {entry.day}; expected one of {', '.join(Arm)}"
        )
    if not entry.group and not entry.player and not outcomes()[entry.outcome].is_answer:
        faults.add(f"{_place(entry)}, column group", f"is empty: rules differ within day {entry.day}, so a value says whose it is")
    return replace(entry, arm=arms[0]) if arms else entry


def _side(entry: Observation) -> Side:
    return entry.day, entry.group, entry.round, entry.period


def _side_words(side: Side) -> str:
    day, group, in_round, period = side
    return f"day {day}, group {group}" + (f", round {in_round}" if in_round is not None else "") + (f", {period}" if period else "")


def _place(entry: Observation) -> str:
    """The row, without the name of its file, which the fault's own line holds."""
    return entry.where.rpartition(", ")[2]
