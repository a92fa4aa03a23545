"""Rows that a trial of units cannot weigh as they stand: queried, or left out and told, before anything is weighed.

A row that goes against what was drawn is queried. Where somebody says that it is right, it is weighed under the rules that were drawn:
units are compared as they were drawn, whatever was played by mistake.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from marram.evidence.designs.drawn_units import FIRST_WAVE, Drawing, Unit, days_washed_out, rules_drawn
from marram.evidence.weighing.odd_rows import as_query
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, LeftOutRow, Observation, TrialRecords


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """What was recorded of a unit: the rules of each round, and the rounds under each set of rules."""

    arms: Mapping[tuple[Unit, int | None], set[Arm]]
    rounds: Mapping[tuple[Unit, Arm], set[int]]


def query_units(records: TrialRecords, drawing: Drawing) -> TrialRecords:
    """The records without the rows that cannot be weighed, each of them listed with the reason.

    Args:
        records: What was read.
        drawing: What was drawn.
    """
    events, arm_of = drawing.events(records), records.arm_finder()
    washed_out = days_washed_out(records)
    seen = _seen(records, drawing)
    kept: list[Observation] = []
    left_out: list[LeftOutRow] = []
    for entry in records.observations:
        unit, arm = drawing.unit_of(entry, events), arm_of(entry)
        if not drawing.is_in_turn and (why := _why_not_of_the_wave(entry, drawing, washed_out)):
            left_out.append(replace(as_query(entry, why), is_query=False))
        elif unit is None and outcomes()[entry.outcome].is_answer:
            kept.append(entry)
        elif why := _why_unclear(entry, unit, arm, drawing, seen):
            left_out.append(as_query(entry, why))
        elif unit is not None and (why := _why_not_drawn(entry, unit, arm, drawing)):
            drawn = rules_drawn(drawing, unit, entry)
            if entry.is_checked and drawn is not None:
                kept.append(replace(entry, arm=drawn))
            else:
                left_out.append(as_query(entry, why))
        else:
            kept.append(entry)
    return replace(records, observations=tuple(kept), left_out=(*records.left_out, *left_out))


def _seen(records: TrialRecords, drawing: Drawing) -> _Seen:
    events, arm_of = drawing.events(records), records.arm_finder()
    arms: dict[tuple[Unit, int | None], set[Arm]] = defaultdict(set)
    rounds: dict[tuple[Unit, Arm], set[int]] = defaultdict(set)
    for entry in records.observations:
        unit, arm = drawing.unit_of(entry, events), arm_of(entry)
        if unit is not None and arm is not None:
            arms[unit, entry.round if drawing.is_in_turn else None].add(arm)
            rounds[unit, arm] |= {entry.round} if entry.round is not None else set()
    return _Seen(arms=arms, rounds=rounds)


def _why_not_of_the_wave(entry: Observation, drawing: Drawing, washed_out: frozenset[str]) -> str:
    """Why a value of a later wave is not weighed; empty where it is."""
    if entry.period in {"", FIRST_WAVE}:
        return ""
    if drawing.rules and not drawing.has_waves:
        return "column period: the plan weighs the first wave alone"
    if entry.day not in washed_out:
        return f"column period: nothing says that a full round's time was left free before the {entry.period} wave (wash-out of the day)"
    return ""


def _why_unclear(entry: Observation, unit: Unit | None, arm: Arm | None, drawing: Drawing, seen: _Seen) -> str:
    """Why nobody can tell whose a value is, or under which rules."""
    if unit is None:
        return "column group: it names no group, and groups were drawn"
    if arm is None:
        return "column arm: nothing says under which rules it was observed"
    if drawing.is_in_turn and entry.round is None:
        return "column round: it says no round, and which came first is what is weighed"
    if drawing.rules:
        return ""  # what was drawn says what is wrong
    if len(seen.arms[unit, entry.round if drawing.is_in_turn else None]) > 1:
        return f"column arm: {unit.name} has both sets of rules in one round"
    if drawing.is_in_turn and len(seen.rounds[unit, arm]) > 1:
        return f"column arm: {unit.name} has played both rounds under {arm.value} rules"
    return ""


def _why_not_drawn(entry: Observation, unit: Unit, arm: Arm | None, drawing: Drawing) -> str:
    """Why a value goes against the plan; empty where it does not, or where there is none."""
    if not drawing.rules:
        return ""
    drawn = rules_drawn(drawing, unit, entry)
    if drawn is None:
        return f"column {'group' if drawing.is_of_groups else 'day'}: the plan has drawn nothing for {unit.name}"
    if drawn is arm:
        return ""
    in_round = f" in round {entry.round}" if drawing.is_in_turn else ""
    return f"column arm: {unit.name} was drawn for {drawn.value} rules{in_round}, and the row says {arm}"


def departures_of_units(records: TrialRecords, drawing: Drawing) -> tuple[str, ...]:
    """Where play did not go as it was drawn: units that are not there, and units that played other rules than theirs.

    Args:
        records: What was read.
        drawing: What was drawn.
    """
    events, arm_of = drawing.events(records), records.arm_finder()
    played: set[Unit] = set()
    otherwise: dict[str, None] = {}
    for entry in records.observations:
        unit = drawing.unit_of(entry, events)
        if unit is None:
            continue
        played.add(unit)
        if _why_not_drawn(entry, unit, arm_of(entry), drawing):
            in_round = f", round {entry.round}" if drawing.is_in_turn and entry.round is not None else ""
            otherwise[f"{unit.name}{in_round} was played otherwise than it was drawn."] = None
    held = set(events.values())
    days = dict.fromkeys(unit.event for unit in drawing.rules if unit.event not in held)
    gone = [f"{unit.name} was drawn and has no value." for unit in drawing.rules if unit.event in held and unit not in played]
    return (*(f"{day} was planned and not played." for day in days), *gone, *otherwise)
